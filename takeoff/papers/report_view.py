"""What the report shows, as texts and drawings ready to be set."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.blanks import JobBlank, MadeLine
from takeoff.drawing.bench_marks import bench_marks
from takeoff.drawing.picture import folded_picture
from takeoff.drawing.piece import flat_pattern
from takeoff.fittings.base import Cutout
from takeoff.jobs.card_text import filled_in
from takeoff.lengths import Unit, show_exactly
from takeoff.pattern.allowances import notch_size
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Hole, NotchKind, Piece
from takeoff.pattern.marks import Axis, chain
from takeoff.pattern.mating import Seam
from takeoff.pattern.outline import outline
from takeoff.pattern.plane import NEAR

from .piece_records import Bends
from .svg import svg

FLAT_ROOM = (385.0, 240.0)
FOLDED_ROOM = (130.0, 130.0)
FITTING_ROOM = (210.0, 190.0)
"""Points for the drawings of a piece and of a fitting: two beside each other fill a page."""
LONGEST_CHAIN = 16
"""Steps of a developed size that are printed; a rolled surface has more."""


@dataclass(frozen=True)
class TapeMark:
    """A running mark as it is written: where the tape reads it, and what line it is."""

    tape: str
    line: str


@dataclass(frozen=True)
class BendLine:
    """One bend in words: what, where, how far and which way, and where on the brake."""

    line: str
    place: str
    angle: str
    brake: str


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
        given=filled_in(line.fitting, unit),
        picture=svg(picture) if len(pieces) > 1 else "",
        notes=made.made.notes,
        seams=tuple(_seams(made.made.seams, pieces)),
        hardware=tuple(
            f"{item.qty} x {item.what}" + (f": {item.note}" if item.note else "")
            for item in made.made.hardware
        ),
        cutouts=tuple(_cutout(cutout, unit) for cutout in made.made.cutouts),
        pieces=tuple(_piece(blank, bends[blank.name], unit) for blank in made.blanks),
    )


def _piece(blank: JobBlank, order: Sequence[BendStep], unit: Unit) -> PieceView:
    piece = blank.piece
    name = blank.name
    axes = ((Axis.WIDTH, "From the left edge"), (Axis.LENGTH, "From the lower edge"))
    return PieceView(
        name=name,
        qty=blank.qty,
        size=_size(blank, unit),
        flat=svg(flat_pattern(piece, order, unit, FLAT_ROOM, f"{name}, flat pattern")),
        folded=svg(folded_picture([piece], FOLDED_ROOM, f"{name}, folded")),
        marks=tuple(
            (
                heading,
                tuple(
                    TapeMark(show_exactly(mark.at, unit), mark.label)
                    for mark in bench_marks(piece, axis)
                ),
            )
            for axis, heading in axes
        ),
        bends=tuple(_bend(step, piece, unit) for step in order),
        chains=tuple(_chains(piece, unit)),
        remarks=tuple(_remarks(piece, unit)),
    )


def _size(blank: JobBlank, unit: Unit) -> str:
    width, length = show_exactly(blank.width, unit), show_exactly(blank.length, unit)
    return f"{width} x {length} {unit.name}"


def _bend(step: BendStep, piece: Piece, unit: Unit) -> BendLine:
    """A step of the bend order; a line square to an edge is told by its running mark."""
    (x0, y0), (x1, y1) = step.hinges[0].start, step.hinges[0].end
    left, low = outline(piece).corner
    if -NEAR < x1 - x0 < NEAR:
        place = f"{show_exactly(x0 - left, unit)} from the left"
    elif -NEAR < y1 - y0 < NEAR:
        place = f"{show_exactly(y0 - low, unit)} from below"
    else:
        place = "aslant, as drawn"
    way = "up" if step.angle > 0 else "down"
    return BendLine(step.label, place, f"{abs(step.angle):g}° {way}", str(step.place))


def _chains(piece: Piece, unit: Unit) -> Iterator[str]:
    """`2 1/2 + 18 + 2 1/2 = 23`, for the width and the length, where there are bends."""
    shape = outline(piece)
    for axis, total in ((Axis.WIDTH, shape.width), (Axis.LENGTH, shape.length)):
        steps = chain(piece, axis)
        if 1 < len(steps) <= LONGEST_CHAIN:
            added = " + ".join(show_exactly(step, unit) for step in steps)
            yield f"{added} = {show_exactly(total, unit)}"


def _remarks(piece: Piece, unit: Unit) -> Iterator[str]:
    notches = []
    for notch in piece.notches:
        along, into = notch_size(notch)
        if notch.kind is NotchKind.CORNER:  # its two sides are alike to a person with snips
            along, into = max(along, into), min(along, into)
        size = f"{show_exactly(along, unit)} x {show_exactly(into, unit)}"
        notches.append(f"{notch.kind.value} {size}")
    yield from (f"Cut {text}." for text in _counted(notches))
    if slits := len(outline(piece).slits):
        yield f"Slit {slits} x to the bend line, where strips part."
    yield from (_hole(hole, piece, unit) for hole in piece.holes)
    if piece.cross_break:
        yield f"Cross-break: {', '.join(piece.cross_break)}."


def _hole(hole: Hole, piece: Piece, unit: Unit) -> str:
    """Where a cut-out lies, measured from the datum edges."""
    x0, y0 = outline(piece).corner
    if hole.centre is not None:
        x, y = hole.centre[0] - x0, hole.centre[1] - y0
        place = "its centre"
    else:
        x, y = min(x for x, _ in hole.points) - x0, min(y for _, y in hole.points) - y0
        place = "its lower left corner"
    return (
        f"Cut {hole.label}: {place} is {show_exactly(x, unit)} from the left edge and "
        f"{show_exactly(y, unit)} from the lower edge."
    )


def _seams(seams: Iterable[Seam], pieces: Sequence[Piece]) -> Iterator[str]:
    """`pittsburgh, 3 edges: wrap receives end`."""
    counts = Counter(
        (seam.kind, pieces[seam.receiving.piece].name, pieces[seam.entering.piece].name)
        for seam in seams
    )
    for (kind, receiving, entering), count in counts.items():
        edges = "1 edge" if count == 1 else f"{count} edges"
        yield f"{kind.replace('_', ' ')}, {edges}: {receiving} receives {entering}"


def _cutout(cutout: Cutout, unit: Unit) -> str:
    """The hole a branch needs, in words."""
    if cutout.diameter is not None:
        size = f"round {show_exactly(cutout.diameter, unit)}"
    else:
        xs, ys = zip(*cutout.points, strict=True)
        width, length = max(xs) - min(xs), max(ys) - min(ys)
        size = f"{show_exactly(width, unit)} x {show_exactly(length, unit)}"
    note = f": {cutout.note}" if cutout.note else ""
    return f"{cutout.name}, {size}{note}"


def _counted(texts: Iterable[str]) -> list[str]:
    """The texts once each, with how often they occur where that is more than once."""
    counts = Counter(texts)
    return [text if count == 1 else f"{count} x {text}" for text, count in counts.items()]
