"""The rack in pictures: every offcut of a metal drawn to one scale, its label below it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.lengths import Unit
from takeoff.sizes import size
from takeoff.withdrawal import OnRack

from . import theme
from .hatch import hatch
from .lettering import LINE, width
from .page import GAP, HIGH, LEFT, TOP, WIDE
from .primitives import Area, Lines, Primitive, Spot, Text, rectangle

LARGEST_SCALE = 2.6
"""Points to an inch, where nothing is so large that it must be drawn smaller."""
LETTERS = theme.SMALLEST_LABEL
CAPTION = 3 * LETTERS * LINE
"""Points below a picture for its label, its size and its place."""


@dataclass(frozen=True)
class _Cell:
    offcut: OnRack
    lines: tuple[str, ...]
    wide: float
    high: float

    @property
    def room(self) -> float:
        """Points across, the letters included."""
        return max(self.wide, *(width(line, LETTERS, bold=True) for line in self.lines))


def rack_scale(offcuts: Iterable[OnRack]) -> float:
    """Points to an inch at which every offcut goes on a page."""
    sides = [(float(offcut.width), float(offcut.length)) for offcut in offcuts]
    fits = [min(WIDE / wide, (HIGH - CAPTION) / high) for wide, high in sides]
    return min([LARGEST_SCALE, *fits])


def rack_pages(
    offcuts: Sequence[OnRack], unit: Unit, scale: float
) -> Iterator[tuple[Primitive, ...]]:
    """The marks of one page after another, in the room below a page's head.

    The longest come first; a row is as high as its longest.
    """
    marks: list[Primitive] = []
    top = TOP
    for row in _rows([_cell(offcut, unit, scale) for offcut in offcuts]):
        high = max(cell.high for cell in row) + CAPTION
        if marks and top - high < TOP - HIGH:
            yield tuple(marks)
            marks, top = [], TOP
        left = LEFT
        for cell in row:
            marks.extend(_drawn(cell, (left, top - high + CAPTION)))
            left += cell.room + GAP
        top -= high + GAP
    if marks:
        yield tuple(marks)


def _cell(offcut: OnRack, unit: Unit, scale: float) -> _Cell:
    lines = offcut.piece.label, size(offcut.width, offcut.length, unit), offcut.piece.place
    return _Cell(offcut, lines, float(offcut.width) * scale, float(offcut.length) * scale)


def _rows(cells: Sequence[_Cell]) -> Iterator[list[_Cell]]:
    row: list[_Cell] = []
    used = 0.0
    for cell in sorted(cells, key=lambda cell: (-cell.high, -cell.wide, cell.lines)):
        if row and used + cell.room > WIDE:
            yield row
            row, used = [], 0.0
        row.append(cell)
        used += cell.room + GAP
    if row:
        yield row


def _drawn(cell: _Cell, low: Spot) -> Iterator[Primitive]:
    low = low[0] + (cell.room - cell.wide) / 2, low[1]
    high = low[0] + cell.wide, low[1] + cell.high
    corners = rectangle(low, high)
    yield Area(corners, theme.PAPER)
    yield Lines(tuple(hatch(low, high, theme.HATCH_STEP)), theme.HATCH)
    yield Area(corners, None, theme.BLANK)
    for place, line in enumerate(cell.lines):
        at = low[0] + cell.wide / 2, low[1] - (place + 0.75) * LETTERS * LINE
        if line:
            yield Text(at, line, LETTERS, bold=place == 0)
