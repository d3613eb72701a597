"""Notches of a piece by shape and size, each kind with a letter that the papers refer to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from takeoff.lengths import Length
from takeoff.pattern.allowances import notch_size
from takeoff.pattern.facets import Notch, NotchKind, Piece
from takeoff.pattern.outline import outline

from . import theme
from .boxes import Box, box_of, inside, label_box, meet, middle
from .labels import Label, backing, written
from .primitives import Lines, Primitive, Spot, spots

REACHES = (9.0, 13.0, 18.0)
"""Points from a notch to its letter, the nearest first."""
AROUND = 16
"""Directions that are tried round a notch."""


@dataclass(frozen=True)
class NotchGroup:
    """Notches that are alike.

    Attributes:
        letter: a, b, ... in the order they first occur.
        kind: their shape.
        along: size along the edge, of a corner notch the longer side (in).
        into: size into the blank (in).
        notches: all of them.
    """

    letter: str
    kind: NotchKind
    along: Length
    into: Length
    notches: tuple[Notch, ...]


def notch_groups(piece: Piece) -> tuple[NotchGroup, ...]:
    """The notches of a piece, those alike taken together."""
    found: dict[tuple[NotchKind, float, float], list[Notch]] = {}
    sizes: dict[tuple[NotchKind, float, float], tuple[Length, Length]] = {}
    for notch in piece.notches:
        along, into = notch_size(notch)
        if notch.kind is NotchKind.CORNER:  # its two sides are alike to a person with snips
            along, into = max(along, into), min(along, into)
        key = notch.kind, round(float(along), 4), round(float(into), 4)
        found.setdefault(key, []).append(notch)
        sizes.setdefault(key, (along, into))
    return tuple(
        NotchGroup(_letter(place), key[0], *sizes[key], tuple(notches))
        for place, (key, notches) in enumerate(found.items())
    )


def notch_letters(piece: Piece, taken: list[Box], scale: float) -> Iterator[Primitive]:
    """A letter beside each notch that has room for one, with a line to it.

    The boxes of the letters are added to those `taken`.
    """
    shape = outline(piece)
    sheet = box_of(spots(shape.points))
    for group in notch_groups(piece):
        label = Label((group.letter,), theme.BODY, upright=False)
        for notch in group.notches:
            at = middle(box_of(spots(notch.points)))
            spot = _free(label, at, sheet, taken, scale)
            if spot is not None:
                taken.append(label_box(label, spot, scale))
                yield Lines(((spot, at),), theme.LEADER)
                yield backing(label, spot, scale)
                yield from written(label, spot, scale)


def _free(label: Label, at: Spot, sheet: Box, taken: Sequence[Box], scale: float) -> Spot | None:
    for reach in REACHES:
        for step in range(AROUND):
            turn = 2 * pi * step / AROUND
            spot = at[0] + reach * cos(turn) / scale, at[1] + reach * sin(turn) / scale
            box = label_box(label, spot, scale)
            if inside(box, sheet) and not any(meet(box, other) for other in taken):
                return spot
    return None


def _letter(place: int) -> str:
    """a, b, ... z, aa, ab, ... for 0, 1, ..."""
    before, here = divmod(place, 26)
    return (_letter(before - 1) if before else "") + chr(ord("a") + here)
