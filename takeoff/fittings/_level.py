"""Turning a flat piece so that the smallest rectangle holds it, and telling that it lies simple."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from takeoff.pattern.facets import Piece, Point
from takeoff.pattern.outline import outline
from takeoff.pattern.settle import moved, settle

WORTH = 1e-6
"""Part of the rectangle that must be saved for a piece to be turned."""


def levelled(piece: Piece) -> Piece:
    """The piece turned so that its blank's rectangle is smallest; as it lies where none is smaller.

    A side of the smallest rectangle lies along a side of the convex hull.
    """
    points = _array(outline(piece).points)
    best, least = 0.0, _rectangle(points, 0.0) * (1 - WORTH)
    steps = np.diff(_hull(points), axis=0)
    for dx, dy in steps:
        turn = -math.atan2(dy, dx)
        turn -= math.pi / 2 * round(turn / (math.pi / 2))
        if (area := _rectangle(points, turn)) < least:
            best, least = turn, area * (1 - WORTH)
    return turned(piece, best) if best else piece


def _array(points: Sequence[Point]) -> npt.NDArray[np.float64]:
    return np.array([[float(x), float(y)] for x, y in points])


def _cross(a: npt.NDArray[np.float64], b: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _rectangle(points: npt.NDArray[np.float64], turn: float) -> float:
    """Area of the upright rectangle round the points when they are turned (in2)."""
    cos, sin = math.cos(turn), math.sin(turn)
    across = points[:, 0] * cos - points[:, 1] * sin
    up = points[:, 0] * sin + points[:, 1] * cos
    return float(np.ptp(across) * np.ptp(up))


def _hull(points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """The corners of the convex hull, counter-clockwise, the first repeated (Andrew's chain)."""
    ordered = sorted({(float(x), float(y)) for x, y in points})
    lower, upper = _chain(ordered), _chain(ordered[::-1])
    return np.array([*lower[:-1], *upper])


def _chain(ordered: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    chain: list[tuple[float, float]] = []
    for x, y in ordered:
        while len(chain) > 1:
            (ax, ay), (bx, by) = chain[-2], chain[-1]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            chain.pop()
        chain.append((x, y))
    return chain


def turned(piece: Piece, turn: float) -> Piece:
    """The flat piece turned on the sheet by an angle (radians), put back to its datum."""
    cos, sin = math.cos(turn), math.sin(turn)

    def place(point: Point) -> Point:
        x, y = float(point[0]), float(point[1])
        return x * cos - y * sin, x * sin + y * cos

    return settle(moved(piece, place))
