"""A page of the packet: its head, its foot, and the room between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from . import theme
from .lettering import fitted, width
from .primitives import Align, Area, Drawing, Lines, Pen, Primitive, Text

SIZE = (595.0, 792.0)
"""Points: as wide as A4 and as high as letter, so that it prints on both in full size."""
MARGIN = 32.0
HEAD = 62.0
FOOT = 24.0
GAP = 14.0
NUMBER = 80.0
"""Points at the end of the foot for the number of the page."""

LEFT, RIGHT = MARGIN, SIZE[0] - MARGIN
TOP, LOW = SIZE[1] - MARGIN - HEAD, MARGIN + FOOT
WIDE, HIGH = RIGHT - LEFT, TOP - LOW
"""The room between head and foot."""


@dataclass(frozen=True)
class Head:
    """What stands at the top of a page: what it is for, what of, and for which job."""

    title: str
    about: str
    job: str

    def continued(self) -> Head:
        """The head of the page after it."""
        return replace(self, title=f"{self.title} (continued)")


def page(head: Head, items: Iterable[Primitive], caution: str, title: str) -> Drawing:
    """A page with its head and a caution at its foot; its units are points."""
    marks = (*_head(head), *items, *_foot(caution))
    return Drawing((0.0, 0.0), SIZE, 1.0, marks, title)


def numbered_page(drawing: Drawing, number: int, of: int) -> Drawing:
    """The page with its number at its foot."""
    at = RIGHT, MARGIN + theme.BODY / 2
    text = Text(at, f"page {number} of {of}", theme.BODY, Align.END)
    return replace(drawing, items=(*drawing.items, text))


def enlarged(drawing: Drawing, by: float) -> Drawing:
    """The drawing with all that belongs to the paper, letters, lines and gaps, made larger."""

    def pen(given: Pen) -> Pen:
        return replace(given, weight=given.weight * by, dash=tuple(d * by for d in given.dash))

    def item(given: Primitive) -> Primitive:
        match given:
            case Lines():
                return replace(given, pen=pen(given.pen))
            case Area():
                return replace(given, pen=pen(given.pen) if given.pen else None)
            case Text():
                return replace(given, size=given.size * by)

    return replace(drawing, scale=drawing.scale * by, items=tuple(map(item, drawing.items)))


def _head(head: Head) -> Iterator[Primitive]:
    first = SIZE[1] - MARGIN - theme.TITLE / 2
    second = first - theme.TITLE * 1.5
    large = max(theme.HEADING, min(theme.TITLE, WIDE / width(head.title, 1.0, bold=True)))
    title = fitted(head.title, large, WIDE, bold=True)
    yield Text((LEFT, first), title, large, Align.START, bold=True)
    size = theme.HEADING + 1
    yield Text((LEFT, second), fitted(head.about, size, WIDE), size, Align.START)
    third = second - size * 1.5
    yield Text((LEFT, third), fitted(head.job, theme.HEADING, WIDE), theme.HEADING, Align.START)
    rule = third - theme.TITLE * 0.7
    yield Lines((((LEFT, rule), (RIGHT, rule)),), theme.RULE)


def _foot(caution: str) -> Iterator[Primitive]:
    text = fitted(caution, theme.BODY, WIDE - NUMBER)
    yield Text((LEFT, MARGIN + theme.BODY / 2), text, theme.BODY, Align.START)
