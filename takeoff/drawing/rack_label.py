"""A label to tape on an offcut: its number, its size, its metal, and a code for a phone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from takeoff.lengths import Unit
from takeoff.sizes import size
from takeoff.withdrawal import OnRack

from .lettering import largest
from .primitives import Align, Primitive, Spot, Text
from .qr import qr_marks

INSET = 7.0
"""Points kept free at the edges of a label."""
LEAST = 5.5
"""Letter height, points; what would have to be smaller is left out."""
CODE_SHARE = 0.42
"""The most of a label's width that the code takes."""
BANDS = ((0.32, 26.0), (0.28, 20.0), (0.22, 13.0), (0.18, 11.0))
"""For number, size, metal and place: share of the label's height, largest letters in points."""


@dataclass(frozen=True)
class RackLabel:
    """What is written on a label.

    Attributes:
        lines: number, size, metal, and the place where one is known.
        code: the text of the QR code.
    """

    lines: tuple[str, ...]
    code: str


def rack_label(offcut: OnRack, unit: Unit) -> RackLabel:
    """The label of an offcut, its size in that unit."""
    told = size(offcut.width, offcut.length, unit)
    metal = f"{offcut.material} {offcut.gauge} ga"
    name, place = offcut.piece.label, offcut.piece.place
    return RackLabel((name, told, metal, *([place] if place else [])), f"{name} {told} {metal}")


def label_marks(label: RackLabel, low: Spot, room: Spot) -> Iterator[Primitive]:
    """The label in a box (points): the code on the left, the letters on the right."""
    wide, high = room
    side = min(high - INSET, wide * CODE_SHARE)
    yield from qr_marks(label.code, (low[0] + INSET / 2, low[1] + (high - side) / 2), side)
    left = low[0] + INSET / 2 + side
    width = low[0] + wide - INSET - left
    top = low[1] + high - INSET
    for place, line in enumerate(label.lines):
        share, most = BANDS[place]
        band = share * (high - 2 * INSET)
        letters = min(most, largest([line], (width, band * 0.8), bold=place < 2))
        if letters >= LEAST:
            at = left, top - band / 2
            yield Text(at, line, letters, Align.START, bold=place < 2)
        top -= band
