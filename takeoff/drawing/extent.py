"""How far the marks of a drawing reach, letters included."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from .lettering import CAPITALS, width
from .primitives import Align, Area, Lines, Primitive, Spot, Text

_BEFORE = {Align.START: 0.0, Align.MIDDLE: 0.5, Align.END: 1.0}
"""Part of a text that lies before its spot."""


def extent(items: Iterable[Primitive], scale: float, pad: float = 0.0) -> tuple[Spot, Spot]:
    """Lower left and upper right corner round everything, and `pad` points more, in its units."""
    reached = [spot for item in items for spot in _reached(item, scale)]
    xs, ys = zip(*reached, strict=True)
    more = pad / scale
    return (min(xs) - more, min(ys) - more), (max(xs) + more, max(ys) + more)


def text_box(item: Text, scale: float) -> tuple[Spot, Spot]:
    """Lower left and upper right corner of the room that a text takes."""
    long = width(item.text, item.size, item.bold) / scale
    half = item.size * CAPITALS / 2 / scale
    before = long * _BEFORE[item.align]
    x, y = item.at
    if item.upright:
        return (x - half, y - before), (x + half, y - before + long)
    return (x - before, y - half), (x - before + long, y + half)


def _reached(item: Primitive, scale: float) -> Iterator[Spot]:
    match item:
        case Lines():
            yield from (spot for segment in item.segments for spot in segment)
        case Area():
            yield from item.points
        case Text():
            yield from text_box(item, scale)
