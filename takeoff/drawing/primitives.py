"""The few kinds of mark a drawing is made of.

Positions are in the drawing's own units (inches of metal, or points of paper), x to the right and
y up. What belongs to the paper, as line weights and letter heights, is in points (1/72 in).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import SupportsFloat

Spot = tuple[float, float]
"""A position in the drawing's units."""
_Move = Callable[[Spot], Spot]


@dataclass(frozen=True)
class Pen:
    """How a line is drawn: weight in points, dash pattern in points, grey 0 (black) to 1."""

    weight: float
    dash: tuple[float, ...] = ()
    grey: float = 0.0


@dataclass(frozen=True)
class Lines:
    """Straight lines, each from one spot to another."""

    segments: tuple[tuple[Spot, Spot], ...]
    pen: Pen


@dataclass(frozen=True)
class Area:
    """A closed outline, filled with a grey, drawn round with a pen, or both."""

    points: tuple[Spot, ...]
    fill: float | None = None
    pen: Pen | None = None


class Align(StrEnum):
    """Which part of a text stands at its spot."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Text:
    """One line of letters.

    Attributes:
        at: where it stands; the middle of its capital letters lies on this height.
        text: what it says.
        size: height of the font, points.
        align: which part of it stands there.
        upright: reads from below to above instead of from left to right.
        bold: heavier letters.
    """

    at: Spot
    text: str
    size: float
    align: Align = Align.MIDDLE
    upright: bool = False
    bold: bool = False


Primitive = Lines | Area | Text


@dataclass(frozen=True)
class Drawing:
    """Marks in the order they are painted.

    Attributes:
        low: lower left corner of the paper, in the drawing's units.
        high: upper right corner.
        scale: points of paper for one of the drawing's units; the letters were fitted to it.
        items: what is painted, first things first.
        title: what the drawing shows, for those who cannot see it.
    """

    low: Spot
    high: Spot
    scale: float
    items: tuple[Primitive, ...]
    title: str

    @property
    def size(self) -> Spot:
        """Width and height on paper, points."""
        return (
            (self.high[0] - self.low[0]) * self.scale,
            (self.high[1] - self.low[1]) * self.scale,
        )


def placed(drawing: Drawing, corner: Spot) -> tuple[Primitive, ...]:
    """The marks of a drawing on a page in points, its lower left corner put at `corner`."""

    def moved(spot: Spot) -> Spot:
        return (
            corner[0] + (spot[0] - drawing.low[0]) * drawing.scale,
            corner[1] + (spot[1] - drawing.low[1]) * drawing.scale,
        )

    return tuple(_moved(drawing.items, moved))


def _moved(items: Iterable[Primitive], moved: _Move) -> Iterable[Primitive]:
    for item in items:
        match item:
            case Lines(segments, pen):
                yield Lines(tuple((moved(a), moved(b)) for a, b in segments), pen)
            case Area(points, fill, pen):
                yield Area(tuple(moved(point) for point in points), fill, pen)
            case Text():
                yield replace(item, at=moved(item.at))


def spots(points: Iterable[tuple[SupportsFloat, SupportsFloat]]) -> tuple[Spot, ...]:
    """Points of exact lengths as spots."""
    return tuple((float(x), float(y)) for x, y in points)


def rectangle(low: Spot, high: Spot) -> tuple[Spot, Spot, Spot, Spot]:
    """The corners of an upright rectangle, counter-clockwise."""
    return low, (high[0], low[1]), high, (low[0], high[1])
