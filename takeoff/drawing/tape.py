"""Running marks beside a pattern, as a tape hooked on its edge reads them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from . import theme
from .lettering import width
from .primitives import Align, Lines, Primitive, Text
from .spread import spread

STEP = 8.0
"""Points from mark to mark where they crowd."""
TICK, LEADER, LETTERS = 3.0, 10.0, 12.0
"""Points from the edge of the blank to the end of the tick, of the leader, and to the letters."""
APART = 4.0
"""Points between marks that are written level."""


@dataclass(frozen=True)
class Reading:
    """A place on the tape, inches from the datum edge, and what it says there."""

    at: float
    text: str


def letters_room(readings: Sequence[Reading]) -> float:
    """The most points that the marks may take beside the blank; 0 for no marks."""
    widths = [width(reading.text, theme.BODY) for reading in readings]
    return LETTERS + max(widths) if widths else 0.0


def below(readings: Sequence[Reading], scale: float) -> Iterator[Primitive]:
    """Marks along the width, level where they have room, else upright and spread."""
    yield from _across(readings, scale, 0.0, -1.0)


def above(readings: Sequence[Reading], edge: float, scale: float) -> Iterator[Primitive]:
    """The same above the far edge."""
    yield from _across(readings, scale, edge, 1.0)


def beside(readings: Sequence[Reading], scale: float) -> Iterator[Primitive]:
    """Marks along the length, left of the blank, spread where they crowd."""
    yield from _along(readings, scale, 0.0, -1.0)


def on_the_right(readings: Sequence[Reading], edge: float, scale: float) -> Iterator[Primitive]:
    """The same right of the far edge."""
    yield from _along(readings, scale, edge, 1.0)


def _across(
    readings: Sequence[Reading], scale: float, edge: float, out: float
) -> Iterator[Primitive]:
    """Marks on a level edge; `out` is 1 above it and -1 below."""
    ats = [reading.at for reading in readings]
    level = _room_level(readings, scale)
    places = ats if level else spread(ats, STEP / scale)
    near, far = edge + out * TICK / scale, edge + out * LEADER / scale
    for reading, place in zip(readings, places, strict=True):
        bend = reading.at, near
        yield Lines((((reading.at, edge), bend), (bend, (place, far))), theme.DIMENSION)
    for reading, place in zip(readings, places, strict=True):
        if level:
            at = place, edge + out * (LETTERS + theme.BODY / 2) / scale
            yield Text(at, reading.text, theme.BODY)
        else:
            at = place, edge + out * LETTERS / scale
            align = Align.START if out > 0 else Align.END
            yield Text(at, reading.text, theme.BODY, align, upright=True)


def _along(
    readings: Sequence[Reading], scale: float, edge: float, out: float
) -> Iterator[Primitive]:
    """Marks on an upright edge; `out` is 1 right of it and -1 left."""
    places = spread([reading.at for reading in readings], STEP / scale)
    near, far = edge + out * TICK / scale, edge + out * LEADER / scale
    align = Align.START if out > 0 else Align.END
    for reading, place in zip(readings, places, strict=True):
        bend = near, reading.at
        yield Lines((((edge, reading.at), bend), (bend, (far, place))), theme.DIMENSION)
    for reading, place in zip(readings, places, strict=True):
        yield Text((edge + out * LETTERS / scale, place), reading.text, theme.BODY, align)


def _room_level(readings: Sequence[Reading], scale: float) -> bool:
    """Whether the marks can be written level without touching."""
    return all(
        (after.at - before.at) * scale
        > (width(before.text, theme.BODY) + width(after.text, theme.BODY)) / 2 + APART
        for before, after in pairwise(readings)
    )
