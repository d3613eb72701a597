"""The assembly card: a fitting's pieces, where they join, in what order, and with what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from takeoff.blanks import MadeLine
from takeoff.drawing.listing import SPACE, Column, Row, Style, entry, heading
from takeoff.drawing.page import GAP, LEFT, LOW, TOP, WIDE, Head
from takeoff.drawing.picture import folded_picture
from takeoff.drawing.primitives import Drawing, placed
from takeoff.drawing.running_pages import running_pages
from takeoff.jobs.card_text import for_the_bench
from takeoff.lengths import Unit
from takeoff.settings import Profile

from ..assembly_words import Bends, cutout_text, end_text, hanging, steps, warnings
from ..cautions import BENCH, cautions_for
from ..piece_words import size_text
from ..seam_words import closings, seam_allowances

PICTURE = (250.0, 230.0)
"""Room for the finished fitting, points."""


def assembly_card(
    made: MadeLine, bends: Bends, profile: Profile, unit: Unit, job: str
) -> Iterator[Drawing]:
    """The pages of one row of the job."""
    line = made.line
    picture = folded_picture(
        made.made.pieces, PICTURE, f"{line.mark}, {line.fitting.kind}, finished"
    )
    figures = placed(picture, (LEFT, TOP - picture.size[1]))
    width = (WIDE - GAP) / 2
    low = TOP - PICTURE[1] - GAP
    columns = (
        Column(LEFT + width + GAP, TOP, width, PICTURE[1]),
        Column(LEFT, low, width, low - LOW),
        Column(LEFT + width + GAP, low, width, low - LOW),
    )
    copies = f"make {line.qty}"
    head = Head(
        f"{line.mark}: {line.fitting.kind}, {copies}",
        f"{line.metal.name}{f' - {line.note}' if line.note else ''}",
        job,
    )

    def rows(width: float, style: Style) -> Iterator[Row]:
        return _rows(made, bends, profile, unit, _Setting(width, style))

    yield from running_pages(head, figures, columns, rows, BENCH)


@dataclass(frozen=True)
class _Setting:
    """How the card's lists are set."""

    width: float
    style: Style

    def section(self, title: str, texts: Iterable[str]) -> Iterator[Row]:
        """A heading with its entries, left out where there are none."""
        told = list(texts)
        if told:
            yield from heading(title, self.width, self.style)
            for text in told:
                yield from entry("-", text, self.width, self.style)
            yield SPACE

    def numbered(self, title: str, texts: Iterable[str]) -> Iterator[Row]:
        """The same with numbers from 1."""
        yield from heading(title, self.width, self.style)
        for number, text in enumerate(texts, 1):
            yield from entry(str(number), text, self.width, self.style)
        yield SPACE

    def alarming(self, title: str, texts: Iterable[str]) -> Iterator[Row]:
        """The same in heavy letters, left out where there are none."""
        told = list(texts)
        if told:
            yield from heading(title, self.width, self.style)
            for text in told:
                yield from entry("!", text, self.width, self.style, bold=True)
            yield SPACE


def _rows(
    made: MadeLine, bends: Bends, profile: Profile, unit: Unit, setting: _Setting
) -> Iterator[Row]:
    yield from setting.section("Pieces for one", _pieces(made, unit))
    yield from setting.section("As ordered", _given(made, unit))
    yield from setting.alarming("Watch these bends", warnings(made, bends))
    yield from setting.numbered("Put together in this order", steps(made, bends, profile))
    seams = seam_allowances(closings(made.made), profile.seams)
    yield from setting.section("Seams", seams)
    yield from setting.section("Holes", _holes(made, unit))
    ends = made.line.fitting.open_ends()
    yield from setting.section("Open ends", (end_text(end, unit) for end in ends))
    yield from setting.section("Hang with, for all of them", hanging(made, profile, unit))
    yield from setting.section("To know", made.made.notes)
    yield from setting.section("Cautions", cautions_for(made))


def _pieces(made: MadeLine, unit: Unit) -> Iterator[str]:
    for blank in made.blanks:
        each = blank.qty // made.line.qty
        size = size_text(blank.width, blank.length, unit)
        name = blank.name.removeprefix(made.line.mark).strip()
        yield f"{each} x {name}, blank {size}"


def _given(made: MadeLine, unit: Unit) -> Iterator[str]:
    given = for_the_bench(made.line.fitting, unit).items()
    yield ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in given)


def _holes(made: MadeLine, unit: Unit) -> Iterator[str]:
    for blank in made.blanks:
        name = blank.name.removeprefix(made.line.mark).strip()
        holes = Counter((hole.label, hole.facet) for hole in blank.piece.holes)
        for (label, facet), count in holes.items():
            times = "" if count == 1 else f"{count} x "
            yield f"{times}{label} in {facet} of {name}"
    for cutout in made.made.cutouts:
        yield f"In the fitting that it goes into: {cutout_text(cutout, unit)}"
