"""Lists on a page: lines of text that run on from column to column and from page to page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from .lettering import BOLD, LINE, wrapped
from .lettering import width as text_width
from .primitives import Align, Spot, Text

MOST_LINES = 40
"""Lines of one entry; nothing that is written on a page is longer."""


BEFORE = 0.55
"""Letter heights between a number and its entry."""


@dataclass(frozen=True)
class Style:
    """How a list is set: the letter height, and how far entries hang in behind their numbers."""

    size: float
    indent: float

    @property
    def step(self) -> float:
        """Points from line to line."""
        return self.size * LINE


@dataclass(frozen=True)
class Row:
    """A line of a list.

    Attributes:
        text: what it says; "" for an empty line.
        number: stands before it.
        hangs: whether it stands behind the numbers, not at the edge.
        bold: heavier letters.
        keep: whether the next line must stand in the same column.
    """

    text: str
    number: str = ""
    hangs: bool = True
    bold: bool = False
    keep: bool = False


@dataclass(frozen=True)
class Column:
    """Room for a list: left edge, upper edge, width and height, points."""

    left: float
    top: float
    width: float
    height: float

    def rows(self, style: Style) -> int:
        """How many lines it takes."""
        return max(0, int(self.height / style.step))


def heading(text: str, width: float, style: Style) -> Iterator[Row]:
    """A heading, never the last line of a column."""
    for line in wrapped(text, style.size * BOLD, width, MOST_LINES):
        yield Row(line, hangs=False, bold=True, keep=True)


def entry(number: str, text: str, width: float, style: Style, bold: bool = False) -> Iterator[Row]:
    """An entry whose lines hang in behind its number; none of it is cut short.

    A number too wide to stand before it has a line of its own.
    """
    heavier = BOLD if bold else 1.0
    lines = wrapped(text, style.size * heavier, width - style.indent, MOST_LINES)
    if text_width(number, style.size, bold=True) > style.indent - BEFORE * style.size:
        yield Row(number, hangs=False, bold=True, keep=True)
        number = ""
    for place, line in enumerate(lines):
        yield Row(line, number if place == 0 else "", bold=bold, keep=place < len(lines) - 1)


def paragraph(text: str, width: float, style: Style, bold: bool = False) -> Iterator[Row]:
    """Lines that begin at the column's edge."""
    heavier = BOLD if bold else 1.0
    for line in wrapped(text, style.size * heavier, width, MOST_LINES):
        yield Row(line, hangs=False, bold=bold)


SPACE = Row("")


def filled(
    rows: Sequence[Row], columns: Iterable[Column], style: Style
) -> tuple[list[Text], list[Row]]:
    """The texts of the rows that the columns take, and the rows left over."""
    texts: list[Text] = []
    left = list(rows)
    for column in columns:
        while left and left[0] == SPACE:
            left = left[1:]
        count = _fitting(left, column.rows(style))
        for place, row in enumerate(left[:count]):
            y = column.top - (place + 0.5) * style.step
            texts.extend(_texts(row, (column.left, y), style))
        left = left[count:]
    return texts, left


def _fitting(rows: Sequence[Row], room: int) -> int:
    """How many rows go into a column: a heading or half an entry is not left at its end."""
    if len(rows) <= room:
        return len(rows)
    count = room
    while count and rows[count - 1].keep:
        count -= 1
    return count or room


def _texts(row: Row, at: Spot, style: Style) -> Iterator[Text]:
    if row.number:
        x = at[0] + style.indent - style.size * BEFORE
        yield Text((x, at[1]), row.number, style.size, Align.END, bold=True)
    if row.text:
        x = at[0] + (style.indent if row.hangs else 0.0)
        yield Text((x, at[1]), row.text, style.size, Align.START, bold=row.bold)
