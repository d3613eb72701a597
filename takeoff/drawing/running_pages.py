"""Figures and lists on as many pages as the lists take."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from .listing import Column, Row, Style, filled
from .page import GAP, HIGH, LEFT, TOP, WIDE, Head, page
from .primitives import Drawing, Primitive

INDENT = 2.9
"""Room for two figures, letter heights."""
SIZES = (11.0, 10.0, 9.0, 8.0)
"""Letter heights of lists, the first that keeps them on one page is taken."""
SEVERAL = 9.0
"""The letter height where one page does not do."""

Rows = Callable[[float, Style], Iterable[Row]]
"""Makes the rows, wrapped to a width (points) and set in a style."""


def running_pages(
    head: Head,
    figures: Sequence[Primitive],
    columns: Sequence[Column],
    rows: Rows,
    caution: str,
    indent: float = INDENT,
) -> tuple[Drawing, ...]:
    """The figures on the first page, the rows in its columns and on pages after it.

    Args:
        head: of the first page; those after it say that they go on.
        figures: in points.
        columns: the room for rows beside the figures.
        rows: made anew for each letter height that is tried.
        caution: at the foot of every page.
        indent: how far entries hang in behind their numbers, letter heights.
    """
    width = min(column.width for column in columns)
    for size in (*SIZES, SEVERAL):
        style = Style(size, indent * size)
        texts, left = filled(list(rows(width, style)), columns, style)
        if not left:
            break
    pages = [page(head, (*figures, *texts), caution, head.title)]
    after = head.continued()
    while left:
        texts, left = filled(left, full_columns(width), style)
        pages.append(page(after, texts, caution, after.title))
    return tuple(pages)


def full_columns(width: float) -> Iterator[Column]:
    """As many columns of at least that width as go side by side on a page of their own."""
    count = max(1, int((WIDE + GAP) / (width + GAP) + 1e-6))
    for place in range(count):
        yield Column(LEFT + place * (WIDE + GAP) / count, TOP, width, HIGH)
