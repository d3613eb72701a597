"""The layout card: one blank, how it is marked, notched, cut out and bent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain as joined

from takeoff.blanks import JobBlank
from takeoff.drawing import theme
from takeoff.drawing.key import samples
from takeoff.drawing.lettering import width as text_width
from takeoff.drawing.listing import SPACE, Column, Row, Style, entry, heading, paragraph
from takeoff.drawing.page import GAP, HIGH, LEFT, LOW, RIGHT, TOP, WIDE, Head, enlarged
from takeoff.drawing.picture import folded_picture
from takeoff.drawing.piece import flat_pattern
from takeoff.drawing.primitives import Align, Drawing, Primitive, Text, placed
from takeoff.drawing.running_pages import running_pages
from takeoff.lengths import Unit
from takeoff.pattern.bending import BendStep, Place
from takeoff.pattern.marks import Axis
from takeoff.plural import many

from ..cautions import BENCH
from ..piece_words import bend_line, by_machine, chains, marks, notch_lines, other_cuts, size_text

LARGER = 1.3
"""Against the report: a card lies on the bench and is read at arm's length."""
LIST = 190.0
"""Least width of a column of lists, points."""
BELOW = 300.0
"""Least height of the lists below a flat pattern, points."""
PICTURE = (150.0, 150.0)
"""Room for the folded piece, points."""
KEY = 16.0
"""Height of the key to the lines, points."""


def piece_card(
    blank: JobBlank, order: Sequence[BendStep], unit: Unit, job: str
) -> Iterator[Drawing]:
    """The pages of one blank."""
    flat, columns, corner = _laid_out(blank, order, unit)
    picture = folded_picture([blank.piece], PICTURE, f"{blank.name}, folded")
    at = corner[0] - picture.size[0], corner[1]
    figures = (
        *placed(flat, (LEFT, TOP - flat.size[1])),
        *placed(picture, at),
        *_key(),
    )

    def rows(width: float, style: Style) -> Iterator[Row]:
        return _rows(blank, order, unit, width, style)

    yield from running_pages(_head(blank, unit, job), figures, columns, rows, BENCH)


def _laid_out(
    blank: JobBlank, order: Sequence[BendStep], unit: Unit
) -> tuple[Drawing, list[Column], tuple[float, float]]:
    """The flat pattern where it is drawn larger, the columns beside or below it.

    The last of the three is the lower right corner of the folded picture.
    """

    def drawn(wide: float, high: float) -> Drawing:
        room = wide / LARGER, high / LARGER
        flat = flat_pattern(blank.piece, order, unit, room, f"{blank.name}, flat pattern")
        return enlarged(flat, LARGER)

    low = LOW + KEY
    beside = drawn(WIDE - LIST - GAP, HIGH - KEY)
    below = drawn(WIDE, HIGH - KEY - BELOW - GAP)
    if beside.scale > below.scale:
        left = LEFT + beside.size[0] + GAP
        under = TOP - beside.size[1] - low > PICTURE[1] + GAP
        height = HIGH - KEY if under else HIGH - KEY - PICTURE[1] - GAP
        corner = (LEFT + beside.size[0], low) if under else (RIGHT, low)
        return beside, [Column(left, TOP, RIGHT - left, height)], corner
    top = TOP - below.size[1] - GAP
    width = (WIDE - 2 * GAP) / 3
    lists = [Column(LEFT + place * (width + GAP), top, width, top - low) for place in range(2)]
    last = Column(LEFT + 2 * (width + GAP), top, width, top - low - PICTURE[1] - GAP)
    return below, [*lists, last], (RIGHT, low)


def _head(blank: JobBlank, unit: Unit, job: str) -> Head:
    copies = many(blank.qty, "blank")
    size = size_text(blank.width, blank.length, unit)
    return Head(f"{blank.name}: {copies}, {size}", f"{blank.metal.name}, for {blank.fitting}", job)


def _rows(
    blank: JobBlank, order: Sequence[BendStep], unit: Unit, width: float, style: Style
) -> Iterator[Row]:
    piece = blank.piece
    sums = list(chains(piece, unit))
    if sums:
        yield from heading("The sizes add up", width, style)
        yield from joined.from_iterable(paragraph(each, width, style) for each in sums)
        yield SPACE
    notches, others = notch_lines(piece, unit), list(other_cuts(piece, unit))
    if notches or others:
        yield from heading("Cut and mark", width, style)
        for letter, text in notches:
            yield from entry(letter, text, width, style)
        for text in others:
            yield from entry("-", text, width, style)
        yield SPACE
    machine = list(by_machine(piece))
    if order or machine:
        yield from heading("Bend in this order", width, style)
    yield from joined.from_iterable(entry("-", each, width, style) for each in machine)
    hard_ones = any(step.place != Place.ANYWHERE for step in order)
    for number, step in enumerate(order, 1):
        line = bend_line(step, piece, unit)
        hard = step.place != Place.ANYWHERE
        brake = f"; {line.brake}" if hard else ""
        text = f"{line.line} {line.angle}, {line.place}{brake}"
        yield from entry(str(number), text, width, style, bold=hard)
    if any(step.place == Place.ANYWHERE for step in order):
        rest = "The others go anywhere on the brake." if hard_ones else "All anywhere on the brake."
        yield from paragraph(rest, width, style)
    yield SPACE
    yield from _tape(blank, unit, width, style)


def _tape(blank: JobBlank, unit: Unit, width: float, style: Style) -> Iterator[Row]:
    """The running marks by name."""
    for axis, edge in ((Axis.WIDTH, "left"), (Axis.LENGTH, "lower")):
        yield from heading(f"Tape from the {edge} edge", width, style)
        told = [f"{mark.tape} {mark.line}" for mark in marks(blank.piece, axis, unit)]
        yield from paragraph(" · ".join(told), width, style)


def _key() -> Iterator[Primitive]:
    """Samples of the kinds of line, above the foot of the page."""
    words = {
        "up": "bend up, to the inside",
        "down": "bend down",
        "formed": "by machine or rolled",
        "cross": "cross-break",
    }
    x, y = LEFT, LOW + 2.0
    for name, sample in samples().items():
        yield from placed(sample, (x, y - sample.size[1] / 2))
        x += sample.size[0] + 4
        yield Text((x, y), words[name], theme.BODY, Align.START)
        x += text_width(words[name], theme.BODY) + GAP
