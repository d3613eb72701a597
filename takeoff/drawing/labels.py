"""Writing inside a rectangle: the fullest wording that fits, along it or across."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from . import theme
from .lettering import CAPITALS, LINE, largest, width
from .primitives import Align, Area, Spot, Text, rectangle

MARGIN = 2.5
"""Points kept free between letters and the line round them."""
PREFER_LEVEL = 1.25
"""How much larger letters must be to be written upright."""

Wording = Sequence[str]
"""Lines of a label, the first one bold."""


@dataclass(frozen=True)
class Label:
    """A wording set at a letter height."""

    lines: tuple[str, ...]
    size: float
    upright: bool

    @cached_property
    def extent(self) -> Spot:
        """Room it takes on paper, points."""
        wide = max(width(line, self.size, bold=True) for line in self.lines)
        high = ((len(self.lines) - 1) * LINE + CAPITALS) * self.size
        return (high, wide) if self.upright else (wide, high)


def fullest(wordings: Sequence[Wording], room: Spot, least: float) -> Label | None:
    """The first wording that fits a room (points) in letters of at least that height, if any."""
    inside = room[0] - 2 * MARGIN, room[1] - 2 * MARGIN
    if min(inside) <= 0:
        return None
    for lines in wordings:
        level = largest(lines, inside, bold=True)
        upright = largest(lines, (inside[1], inside[0]), bold=True)
        turn = upright > level * PREFER_LEVEL and level < theme.LARGEST_LABEL
        size = min(upright if turn else level, theme.LARGEST_LABEL)
        if size >= least:
            return Label(tuple(lines), size, turn)
    return None


def written(label: Label, centre: Spot, scale: float, bold_first: bool = True) -> Iterator[Text]:
    """The lines of a label round a spot, in drawing units at that scale."""
    middle = (len(label.lines) - 1) / 2
    for place, line in enumerate(label.lines):
        away = (middle - place) * LINE * label.size / scale
        x, y = (centre[0] - away, centre[1]) if label.upright else (centre[0], centre[1] + away)
        yield Text((x, y), line, label.size, Align.MIDDLE, label.upright, bold_first and place == 0)


def backing(label: Label, centre: Spot, scale: float) -> Area:
    """White behind a label, so that it can be read over hatching and lines."""
    wide, high = (side / 2 + 1.5 for side in label.extent)
    low = centre[0] - wide / scale, centre[1] - high / scale
    return Area(rectangle(low, (centre[0] + wide / scale, centre[1] + high / scale)), theme.PAPER)
