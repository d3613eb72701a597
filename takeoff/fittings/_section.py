"""The section of a fitting of cheeks and walls: its walls, its openings, and their curves."""

from __future__ import annotations

import math
from dataclasses import dataclass

from takeoff.pattern.facets import Point
from takeoff.pattern.plane import cross, distance, dot, minus

OFF_TRUE = 1 / 64
"""Inches; how far a flat facet may lie off the curve it stands for."""


@dataclass(frozen=True)
class Wall:
    """A wall between the cheeks: its points in section.

    Args:
        name: what the bench calls it.
        points: from its first end to its last, the fitting's inside on the left.
        rolled: numbers of the points at which it is rolled; at the others it is bent in the brake.
    """

    name: str
    points: tuple[Point, ...]
    rolled: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Mouth:
    """An opening between the last point of one wall and the first of the next.

    Args:
        name: what it is called: `end 1`, `branch`.
        column: the field that says what is done to its edge.
        treatment: what is done to its edge.
    """

    name: str
    column: str
    treatment: str


def arc(centre: Point, start: Point, degrees: float) -> tuple[Point, ...]:
    """The points on an arc, its ends included, with every chord within 1/64 in of it.

    A chord over the angle d lies r (1 - cos(d / 2)) off the arc in its middle.

    Args:
        centre: of the circle.
        start: where the arc begins.
        degrees: how far it turns, positive to the left.
    """
    radius = float(distance(centre, start))
    turn = math.radians(degrees)
    widest = 2 * math.acos(max(0.0, 1 - OFF_TRUE / radius))
    count = max(4, math.ceil(abs(turn) / widest))
    first = math.atan2(float(start[1] - centre[1]), float(start[0] - centre[0]))
    return tuple(
        (
            float(centre[0]) + radius * math.cos(first + turn * i / count),
            float(centre[1]) + radius * math.sin(first + turn * i / count),
        )
        for i in range(count + 1)
    )


def turning(before: Point, here: Point, after: Point) -> float:
    """Degrees a line turns left at a point."""
    first, second = minus(here, before), minus(after, here)
    return math.degrees(math.atan2(float(cross(first, second)), float(dot(first, second))))


def brake_points(wall: Wall) -> list[int]:
    """The numbers of the points at which a wall is bent in the brake."""
    return [
        i
        for i in range(1, len(wall.points) - 1)
        if i not in wall.rolled and abs(turning(*wall.points[i - 1 : i + 2])) > 1e-6
    ]


def excess(chord: float, turn: float) -> float:
    """What the arc over a chord is longer than it: 2 r (a - sin a) with a half the turn (in)."""
    half = turn / 2
    return chord * (half / math.sin(half) - 1)
