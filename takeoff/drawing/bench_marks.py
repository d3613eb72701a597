"""The running marks that a person scribes: those of the brake and the lock, not of a roll."""

from __future__ import annotations

from takeoff.pattern.facets import Forming, Hinge, Piece
from takeoff.pattern.marks import Axis, Mark, running_marks
from takeoff.pattern.outline import outline
from takeoff.pattern.plane import NEAR


def bench_marks(piece: Piece, axis: Axis) -> tuple[Mark, ...]:
    """The running marks along an axis without the lines where only a roll bends the metal."""
    bent = _places(piece, axis, rolled=False)
    rolled = _places(piece, axis, rolled=True) - bent
    return tuple(
        mark
        for mark in running_marks(piece, axis)
        if mark.angle is None or _key(float(mark.at)) not in rolled
    )


def _places(piece: Piece, axis: Axis, rolled: bool) -> set[int]:
    way = 0 if axis is Axis.WIDTH else 1
    corner = outline(piece).corner[way]
    return {
        _key(float(hinge.start[way] - corner))
        for hinge in piece.hinges
        if (hinge.forming is Forming.ROLL) == rolled and _square(hinge, way)
    }


def _square(hinge: Hinge, way: int) -> bool:
    return -NEAR < hinge.end[way] - hinge.start[way] < NEAR


def _key(at: float) -> int:
    return round(at / NEAR / 10)
