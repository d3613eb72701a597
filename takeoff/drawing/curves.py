"""Curved edges of a flat pattern, found in its outline: arcs, and curves that are no arc."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, hypot, pi

from .primitives import Spot

STEEPEST = pi / 10
"""Radians from chord to chord; an outline that turns more has a corner there."""
LEAST_TURN = pi / 36
"""Radians that a curve turns in all; less is a straight edge."""
STRAIGHT = 1e-3
"""Radians; an edge that turns less goes straight on."""
LEAST_LEAN, LEAST_SLANT = 1 / 32, 1.25
"""Inches off the level or the upright, and inches long: less is an edge's end or a strip's."""
FEWEST = 4
"""Points inside a curve."""
OFF = 0.01
"""Inches by which the points of an arc may lie off it."""


@dataclass(frozen=True)
class Curve:
    """A curved edge.

    Attributes:
        points: from end to end, in the units of the outline.
        centre: of the arc that it is; None where it is none.
        radius: of that arc.
    """

    points: tuple[Spot, ...]
    centre: Spot | None = None
    radius: float | None = None


def curves(outline: Sequence[Spot]) -> Iterator[Curve]:
    """The curved edges of a closed outline."""
    count = len(outline)
    turns = _turns(outline)
    corners = [i for i in range(count) if abs(turns[i]) > STEEPEST]
    if not corners:
        yield _curve((*outline, outline[0]))
        return
    for start, end in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        between = range(start + 1, end)
        turned = sum(abs(turns[i % count]) for i in between)
        if len(between) >= FEWEST and turned > LEAST_TURN:
            yield _curve(tuple(outline[i % count] for i in range(start, end + 1)))


def slants(outline: Sequence[Spot]) -> Iterator[tuple[Spot, Spot]]:
    """The straight edges of an outline that run aslant to both axes, end to end."""
    found = list(curves(outline))
    inside = {point for curve in found for point in curve.points[1:-1]}
    curved = {frozenset((curve.points[0], curve.points[-1])) for curve in found}
    ends = [
        point
        for point, turn in zip(outline, _turns(outline), strict=True)
        if abs(turn) > STRAIGHT and point not in inside
    ]
    for start, end in zip(ends, [*ends[1:], *ends[:1]], strict=True):
        across, along = abs(end[0] - start[0]), abs(end[1] - start[1])
        aslant = min(across, along) > LEAST_LEAN and max(across, along) > LEAST_SLANT
        if aslant and frozenset((start, end)) not in curved:
            yield start, end


def sharp_corners(outline: Sequence[Spot]) -> Iterator[Spot]:
    """The points of a closed outline where it turns a corner."""
    for point, turn in zip(outline, _turns(outline), strict=True):
        if abs(turn) > STEEPEST:
            yield point


def _turns(outline: Sequence[Spot]) -> list[float]:
    """How far the outline turns at each of its points, radians."""
    after = [*outline[1:], outline[0]]
    return [_turn(outline[i - 1], point, after[i]) for i, point in enumerate(outline)]


def _turn(a: Spot, b: Spot, c: Spot) -> float:
    """How far the way from a over b to c turns at b, radians."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def _curve(points: tuple[Spot, ...]) -> Curve:
    """The curve with its arc, where one circle goes through all its points."""
    middle = points[len(points) // 2]
    last = points[-1] if points[-1] != points[0] else points[len(points) // 4]
    found = _circle(points[0], middle, last)
    if found is None:
        return Curve(points)
    (x, y), radius = found
    if all(abs(hypot(px - x, py - y) - radius) < OFF for px, py in points):
        return Curve(points, (x, y), radius)
    return Curve(points)


def _circle(a: Spot, b: Spot, c: Spot) -> tuple[Spot, float] | None:
    """Centre and radius of the circle through three points; None where they are in line."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2 * (bx * cy - by * cx)
    if abs(twice) < 1e-9:
        return None
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    x, y = (cy * b2 - by * c2) / twice, (bx * c2 - cx * b2) / twice
    return (a[0] + x, a[1] + y), hypot(x, y)
