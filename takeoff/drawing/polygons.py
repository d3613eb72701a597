"""Polygons on the picture: cut into convex parts, and what two of those share."""

from __future__ import annotations

from collections.abc import Sequence

from .primitives import Spot

Polygon = Sequence[Spot]

EVEN = 1e-6
"""Areas, in square drawing units, that are nothing."""


def overlap(a: Polygon, b: Polygon) -> Polygon:
    """The corners of what two convex polygons share, none where they only touch.

    References:
        I. E. Sutherland, G. W. Hodgman, "Reentrant polygon clipping", 1974.
    """
    shared: Polygon = a
    clip = _counter_clockwise(b)
    for start, end in zip(clip, [*clip[1:], clip[0]], strict=True):
        if len(shared) < 3:
            return []
        shared = _clipped(shared, start, end)
    return shared if abs(area(shared)) > EVEN else []


def convex_parts(points: Polygon) -> list[Polygon]:
    """The polygon itself where it is convex, else triangles that make it up (ear clipping)."""
    corners = _counter_clockwise(points)
    if all(_turn(*_around(corners, place)) >= -EVEN for place in range(len(corners))):
        return [corners]
    parts: list[Polygon] = []
    while len(corners) > 3:
        place = next((at for at in range(len(corners)) if _is_ear(corners, at)), 0)
        parts.append(_around(corners, place))
        del corners[place]
    return [*parts, corners]


def area(points: Polygon) -> float:
    """Above 0 for a polygon that runs counter-clockwise."""
    if len(points) < 3:
        return 0.0
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs) / 2


def _clipped(points: Polygon, start: Spot, end: Spot) -> Polygon:
    """The part of an outline to the left of a line."""
    (ax, ay), (bx, by) = start, end
    across, along = bx - ax, by - ay
    sides = [across * (y - ay) - along * (x - ax) for x, y in points]
    if min(sides) >= 0:
        return points
    if max(sides) <= 0:
        return []
    kept: list[Spot] = []
    before, (from_x, from_y) = sides[-1], points[-1]
    for side, (x, y) in zip(sides, points, strict=True):
        if before * side < 0:
            part = before / (before - side)
            kept.append((from_x + (x - from_x) * part, from_y + (y - from_y) * part))
        if side >= 0:
            kept.append((x, y))
        before, from_x, from_y = side, x, y
    return kept


def _around(corners: Polygon, place: int) -> tuple[Spot, Spot, Spot]:
    """A corner between the one before and the one after."""
    return corners[place - 1], corners[place], corners[(place + 1) % len(corners)]


def _is_ear(corners: Polygon, place: int) -> bool:
    """Whether the triangle at a corner lies in the polygon and no other corner in it."""
    a, b, c = _around(corners, place)
    if _turn(a, b, c) <= 0:
        return False
    return not any(
        _turn(a, b, p) > 0 and _turn(b, c, p) > 0 and _turn(c, a, p) > 0 for p in corners
    )


def _turn(a: Spot, b: Spot, c: Spot) -> float:
    """Above 0 where c lies to the left of the way from a to b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _counter_clockwise(points: Polygon) -> list[Spot]:
    return list(points) if area(points) > 0 else list(reversed(points))
