"""Slanting lines that fill a rectangle."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, sqrt

from .primitives import Spot


def hatch(low: Spot, high: Spot, step: float) -> Iterator[tuple[Spot, Spot]]:
    """Lines at 45 degrees, `step` apart, cut off at the rectangle from `low` to `high`.

    They lie on one family of lines for the whole drawing: neighbours join without a seam.
    """
    rise = step * sqrt(2)
    first = ceil((low[1] - high[0]) / rise)
    at = first * rise
    while at < high[1] - low[0]:
        left, right = max(low[0], low[1] - at), min(high[0], high[1] - at)
        if right > left:
            yield (left, left + at), (right, right + at)
        first += 1
        at = first * rise
