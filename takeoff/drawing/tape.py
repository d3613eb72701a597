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
    """The most points that the marks may take beside the blank."""
    return LETTERS + max(width(reading.text, theme.BODY) for reading in readings)


def below(readings: Sequence[Reading], scale: float) -> Iterator[Primitive]:
    """Marks along the width, level where they have room, else upright and spread."""
    ats = [reading.at for reading in readings]
    level = _room_level(readings, scale)
    places = ats if level else spread(ats, STEP / scale)
    near, far = -TICK / scale, -LEADER / scale
    for reading, place in zip(readings, places, strict=True):
        bend = reading.at, near
        yield Lines((((reading.at, 0.0), bend), (bend, (place, far))), theme.DIMENSION)
    for reading, place in zip(readings, places, strict=True):
        if level:
            drop = -(LETTERS + theme.BODY / 2) / scale
            yield Text((place, drop), reading.text, theme.BODY)
        else:
            at = place, -LETTERS / scale
            yield Text(at, reading.text, theme.BODY, Align.END, upright=True)


def beside(readings: Sequence[Reading], scale: float) -> Iterator[Primitive]:
    """Marks along the length, left of the blank, spread where they crowd."""
    places = spread([reading.at for reading in readings], STEP / scale)
    near, far = -TICK / scale, -LEADER / scale
    for reading, place in zip(readings, places, strict=True):
        bend = near, reading.at
        yield Lines((((0.0, reading.at), bend), (bend, (far, place))), theme.DIMENSION)
    for reading, place in zip(readings, places, strict=True):
        yield Text((-LETTERS / scale, place), reading.text, theme.BODY, Align.END)


def _room_level(readings: Sequence[Reading], scale: float) -> bool:
    """Whether the marks can be written level without touching."""
    return all(
        (after.at - before.at) * scale
        > (width(before.text, theme.BODY) + width(after.text, theme.BODY)) / 2 + APART
        for before, after in pairwise(readings)
    )
