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
    """One tag for each run of equal things that lie close together, from below."""
    runs: list[_Tag] = []
    dots = sorted((_dot(thing, right, scale), thing.text) for thing in things)
    for dot, text in sorted(dots, key=lambda found: (found[1], found[0][0], found[0][1])):
        last = runs[-1] if runs else None
        if last and last.text == text and _apart(last.dots[-1], dot) * scale < NEAR:
            runs[-1] = _Tag(text, (*last.dots, dot))
        else:
            runs.append(_Tag(text, (dot,)))
    return sorted(runs, key=lambda tag: tag.height)


def _dot(thing: Tagged, right: bool, scale: float) -> Spot:
    """Where a thing is touched: near its low end and near the side that its tag is on."""
    inset = 5 / scale
    half = (thing.high[0] - thing.low[0]) / 2, (thing.high[1] - thing.low[1]) / 2
    x = thing.high[0] - min(inset, half[0]) if right else thing.low[0] + min(inset, half[0])
    return x, thing.low[1] + min(inset, half[1])


def _apart(a: Spot, b: Spot) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _drawn(tag: _Tag, height: float, sheet: Spot, right: bool, scale: float) -> Iterator[Primitive]:
    edge, out = (sheet[0], 1.0) if right else (0.0, -1.0)
    nearest = max(tag.dots) if right else min(tag.dots)
    bend = edge + out * 3 / scale, nearest[1]
    end = edge + out * 10 / scale, height
    path = [nearest, bend, end]
    ordered = sorted(tag.dots)
    yield Lines((*pairwise(ordered), *pairwise(path)), theme.LEADER)
    dot = DOT / scale
    for x, y in tag.dots:
        yield Area(rectangle((x - dot, y - dot), (x + dot, y + dot)), 0.0)
    at = end[0] + out * 2 / scale, end[1]
    align = Align.START if right else Align.END
    yield Text(at, tag.words, theme.SMALLEST_NUMBER, align, bold=True)
