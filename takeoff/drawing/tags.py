"""Tags beside a sheet for what is too small to be written in: a dot, a line, a name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from . import theme
from .primitives import Align, Area, Lines, Primitive, Spot, Text, rectangle
from .spread import spread

ROOM = 48.0
"""Points that tags need beside the sheet."""
NEAR = 18.0
"""Points within which equal small things share a tag."""
STEP = 9.0
"""Points from tag to tag."""
DOT = 1.0
"""Half the side of the dot on a tagged thing, points."""


@dataclass(frozen=True)
class Tagged:
    """A thing that needs a tag: what to write, and the corners of its box in drawing units."""

    text: str
    low: Spot
    high: Spot


@dataclass(frozen=True)
class _Tag:
    text: str
    dots: tuple[Spot, ...]

    @property
    def height(self) -> float:
        return sum(y for _, y in self.dots) / len(self.dots)

    @property
    def words(self) -> str:
        return self.text if len(self.dots) == 1 else f"{self.text} ({len(self.dots)}×)"


def tags(things: Sequence[Tagged], sheet: Spot, scale: float) -> Iterator[Primitive]:
    """Dots, lines and names for the things of a sheet (its width and length), on its two sides."""
    for right in (False, True):
        mine = [thing for thing in things if _on_right(thing, sheet) == right]
        found = _gathered(mine, right, scale)
        heights = spread([tag.height for tag in found], STEP / scale)
        for tag, height in zip(found, heights, strict=True):
            yield from _drawn(tag, height, sheet, right, scale)


def _on_right(thing: Tagged, sheet: Spot) -> bool:
    return thing.low[0] + thing.high[0] > sheet[0]


def _gathered(things: Sequence[Tagged], right: bool, scale: float) -> list[_Tag]:
    """One tag for equal things that lie close together, from below."""
    clusters: list[_Tag] = []
    for thing in things:
        dot = _dot(thing, right, scale)
        near = [tag for tag in clusters if tag.text == thing.text and _close(tag, dot, scale)]
        dots = sorted({dot, *(spot for tag in near for spot in tag.dots)})
        clusters = [tag for tag in clusters if tag not in near]
        clusters.append(_Tag(thing.text, tuple(dots)))
    return sorted(clusters, key=lambda tag: tag.height)


def _close(tag: _Tag, dot: Spot, scale: float) -> bool:
    return any(hypot(dot[0] - x, dot[1] - y) * scale < NEAR for x, y in tag.dots)


def _dot(thing: Tagged, right: bool, scale: float) -> Spot:
    """Where a thing is touched: near its low end and near the side that its tag is on."""
    inset = 5 / scale
    half = (thing.high[0] - thing.low[0]) / 2, (thing.high[1] - thing.low[1]) / 2
    x = thing.high[0] - min(inset, half[0]) if right else thing.low[0] + min(inset, half[0])
    return x, thing.low[1] + min(inset, half[1])


def _drawn(tag: _Tag, height: float, sheet: Spot, right: bool, scale: float) -> Iterator[Primitive]:
    edge, out = (sheet[0], 1.0) if right else (0.0, -1.0)
    nearest = max(tag.dots) if right else min(tag.dots)
    bend = edge + out * 3 / scale, nearest[1]
    end = edge + out * 10 / scale, height
    path = [nearest, bend, end]
    yield Lines((*pairwise(path), *_row(tag, scale)), theme.LEADER)
    dot = DOT / scale
    for x, y in tag.dots:
        yield Area(rectangle((x - dot, y - dot), (x + dot, y + dot)), 0.0)
    at = end[0] + out * 2 / scale, end[1]
    align = Align.START if right else Align.END
    yield Text(at, tag.words, theme.SMALLEST_NUMBER, align, bold=True)


def _row(tag: _Tag, scale: float) -> Iterator[tuple[Spot, Spot]]:
    """A line through the dots where they stand in one row or column."""
    for way in (0, 1):
        across = [dot[way] for dot in tag.dots]
        if (max(across) - min(across)) * scale < 1:
            yield from pairwise(tag.dots)
            return
