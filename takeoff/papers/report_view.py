"""What the report shows, as texts and drawings ready to be set."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.blanks import JobBlank, MadeLine
from takeoff.drawing.picture import folded_picture
from takeoff.drawing.piece import flat_pattern
from takeoff.jobs.card_text import for_the_bench
from takeoff.lengths import Unit
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Piece
from takeoff.pattern.marks import Axis
from takeoff.pattern.mating import Seam
from takeoff.plural import many

from .assembly_words import cutout_text
from .piece_records import Bends
from .piece_words import (
    BendLine,
    TapeMark,
    bend_line,
    by_machine,
    chains,
    marks,
    remarks,
    size_text,
)
from .svg import svg

FLAT_ROOM = (385.0, 240.0)
FOLDED_ROOM = (130.0, 130.0)
FITTING_ROOM = (210.0, 190.0)
"""Points for the drawings of a piece and of a fitting: two beside each other fill a page."""


@dataclass(frozen=True)
class PieceView:
    """One blank of a fitting.

    Attributes:
        name: of the blank.
        qty: copies for the whole row of the job.
        size: width by length.
        flat: SVG of the flat pattern.
        folded: SVG of the folded piece.
        marks: heading and running marks, for the width and for the length.
        bends: in the order they are made.
        chains: the sums that make the developed sizes.
        remarks: notches, cut-outs and cross-breaks, in words.
    """

    name: str
    qty: int
    size: str
    flat: str
    folded: str
    marks: tuple[tuple[str, tuple[TapeMark, ...]], ...]
    bends: tuple[BendLine, ...]
    chains: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class FittingView:
    """One row of the job, taken apart."""

    mark: str
    kind: str
    qty: int
    metal: str
    note: str
    given: dict[str, str]
    picture: str
    notes: tuple[str, ...]
    seams: tuple[str, ...]
    hardware: tuple[str, ...]
    cutouts: tuple[str, ...]
    pieces: tuple[PieceView, ...]


def fitting_view(made: MadeLine, bends: Bends, metal: str, unit: Unit) -> FittingView:
    """A fitting with its drawings."""
    line = made.line
    pieces = made.made.pieces
    picture = folded_picture(pieces, FITTING_ROOM, f"{line.mark}, {line.fitting.kind}, folded")
    return FittingView(
        mark=line.mark,
        kind=line.fitting.kind,
        qty=line.qty,
        metal=metal,
        note=line.note,
        given=for_the_bench(line.fitting, unit),
        picture=svg(picture) if len(pieces) > 1 else "",
        notes=made.made.notes,
        seams=tuple(_seams(made.made.seams, pieces)),
        hardware=tuple(
            f"{item.qty} x {item.what}" + (f": {item.note}" if item.note else "")
            for item in made.made.hardware
        ),
        cutouts=tuple(cutout_text(cutout, unit) for cutout in made.made.cutouts),
        pieces=tuple(_piece(blank, bends[blank.name], unit) for blank in made.blanks),
    )


def _piece(blank: JobBlank, order: Sequence[BendStep], unit: Unit) -> PieceView:
    piece = blank.piece
    name = blank.name
    axes = ((Axis.WIDTH, "From the left edge"), (Axis.LENGTH, "From the lower edge"))
    return PieceView(
        name=name,
        qty=blank.qty,
        size=size_text(blank.width, blank.length, unit),
        flat=svg(flat_pattern(piece, order, unit, FLAT_ROOM, f"{name}, flat pattern")),
        folded=svg(folded_picture([piece], FOLDED_ROOM, f"{name}, folded")),
        marks=tuple((heading, marks(piece, axis, unit)) for axis, heading in axes),
        bends=tuple(bend_line(step, piece, unit) for step in order),
        chains=tuple(chains(piece, unit)),
        remarks=(*by_machine(piece), *remarks(piece, unit)),
    )


def _seams(seams: Iterable[Seam], pieces: Sequence[Piece]) -> Iterator[str]:
    """`pittsburgh, 3 edges: wrap receives end`."""
    counts = Counter(
        (seam.kind, pieces[seam.receiving.piece].name, pieces[seam.entering.piece].name)
        for seam in seams
    )
    for (kind, receiving, entering), count in counts.items():
        edges = many(count, "edge")
        yield f"{kind.replace('_', ' ')}, {edges}: {receiving} receives {entering}"
