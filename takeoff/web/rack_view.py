"""Offcuts as the page shows them: all drawn to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.lengths import Unit
from takeoff.sizes import size
from takeoff.stockroom import Offcut

ROOM = 150.0
"""Pixels for the longest side of all."""
MOST_SCALE = 3.0
"""Pixels to an inch, where all are small."""


@dataclass(frozen=True)
class PieceView:
    """An offcut with its picture.

    Attributes:
        offcut: as the stock room knows it.
        size: width by length, as a tape reads it.
        wide: pixels of its picture, across the grain.
        long: pixels along it.
    """

    offcut: Offcut
    size: str
    wide: float
    long: float


def views(offcuts: Sequence[Offcut], unit: Unit, among: Sequence[Offcut]) -> list[PieceView]:
    """Offcuts with their pictures, to the scale of all those they are shown among."""
    longest = max((max(each.width, each.length) for each in among), default=1)
    scale = min(MOST_SCALE, ROOM / float(longest))
    return [
        PieceView(
            each,
            size(each.width, each.length, unit),
            round(float(each.width) * scale, 1),
            round(float(each.length) * scale, 1),
        )
        for each in offcuts
    ]


def metals(offcuts: Sequence[Offcut]) -> list[str]:
    """The metals and gauges there are any of."""
    found = sorted({(each.material, each.gauge) for each in offcuts})
    return [f"{material} {gauge}" for material, gauge in found]
