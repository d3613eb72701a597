"""Plane geometry on points that are exact where the lengths are exact."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from takeoff.lengths import Length

from .facets import Point

_SIGNS = {sign: Fraction(sign) for sign in (-1, 0, 1)}

NEAR = 1e-7
"""Inches below which two points are the same point: far below any tape, far above round-off."""


def minus(a: Point, b: Point) -> Point:
    """The vector from b to a."""
    return a[0] - b[0], a[1] - b[1]


def along(a: Point, direction: Point, distance: Length) -> Point:
    """The point `distance` times `direction` from a."""
    return _on(a[0], direction[0], distance), _on(a[1], direction[1], distance)


def _on(start: Length, way: Length, distance: Length) -> Length:
    """`start + way * distance`, without the arithmetic of fractions along an axis."""
    if type(start) is type(way) is Fraction and not isinstance(distance, float):
        if not way:
            return start
        if way == 1:
            return start + distance
        if way == -1:
            return start - distance
    return start + way * distance


class NoRoom(ValueError):
    """Two points that must lie apart coincide: strips have eaten up the edge between them."""


def size(value: Length) -> Length:
    """The absolute value, exact where the value is."""
    return -value if value < 0 else value


def cross(a: Point, b: Point) -> Length:
    """The z component of the cross product: positive when b lies to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def dot(a: Point, b: Point) -> Length:
    """The scalar product."""
    return a[0] * b[0] + a[1] * b[1]


def distance(a: Point, b: Point) -> Length:
    """The distance between two points, exact when they share a coordinate."""
    return _length(*minus(a, b))


def _length(dx: Length, dy: Length) -> Length:
    if dx == 0:
        return size(dy)
    if dy == 0:
        return size(dx)
    return math.hypot(dx, dy)


def unit(start: Point, end: Point) -> Point:
    """The direction from start to end, exact along an axis; `NoRoom` when they coincide."""
    dx, dy = minus(end, start)
    length = _length(dx, dy)
    if length == 0:
        raise NoRoom("a direction needs two different points")
    if type(dx) is type(dy) is type(length) is Fraction:  # along an axis: one of them is 0
        return _SIGNS[(dx > 0) - (dx < 0)], _SIGNS[(dy > 0) - (dy < 0)]
    return dx / length, dy / length


def right_of(direction: Point) -> Point:
    """The direction turned clockwise by a right angle: outward, along a facet's boundary."""
    return direction[1], -direction[0]


def near(point: Point) -> tuple[float, float]:
    """The point in floats: for questions that are asked to within `NEAR` anyway."""
    return float(point[0]), float(point[1])


def same(a: Point, b: Point) -> bool:
    """Whether two points are one point, round-off aside."""
    (ax, ay), (bx, by) = near(a), near(b)
    return abs(ax - bx) < NEAR and abs(ay - by) < NEAR


def on_segment(point: Point, start: Point, end: Point) -> bool:
    """Whether the point lies on the segment, its ends included; `NoRoom` for one of no length."""
    (x, y), (ax, ay), (bx, by) = near(point), near(start), near(end)
    length = math.hypot(bx - ax, by - ay)
    if length == 0:
        raise NoRoom("a segment needs two different points")
    across, up = (bx - ax) / length, (by - ay) / length
    reach = (x - ax) * across + (y - ay) * up
    off = across * (y - ay) - up * (x - ax)
    return abs(off) < NEAR and -NEAR < reach < length + NEAR


def area(points: Sequence[Point]) -> Length:
    """The signed area of a polygon, positive when it runs counter-clockwise (in2)."""
    total: Length = Fraction(0)
    for a, b in zip(points, [*points[1:], points[0]], strict=True):
        total = total + cross(a, b)
    return total / 2


def extent(points: Sequence[Point]) -> tuple[Point, Point]:
    """The lower left and the upper right corner of the rectangle round the points."""
    xs = [x for x, _ in points]
    ys = [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))
