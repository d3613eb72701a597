"""Circles as rolled metal is laid out on them: polygons whose girth is the true pi d."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.lengths import Length
from takeoff.pattern.facets import Point3

OFF_TRUE = 1 / 64
"""Inches; how far a flat stave may lie off the round surface it stands for."""
STEP = 24
"""Divisions come in multiples of this: drafting divides a circle into 24 by set squares, and its
halves, thirds and quarters fall on points."""
MOST = 20 * STEP
"""Divisions beyond which no pattern is drawn."""

Curve = Callable[[float], float]
"""Where the edge of a shell is cut (in along the axis), by the angle round it in radians."""


def polygon_radius(diameter: Length, count: int) -> float:
    """Radius of the corners of a polygon of `count` equal sides whose girth is pi d (in).

    A side 2 R' sin(pi/n) equals the arc pi d / n, so a shell laid out on it is as wide as the true
    girth: R' = (d/2) (pi/n) / sin(pi/n).
    """
    half = math.pi / count
    return float(diameter) / 2 * half / math.sin(half)


def off_round(diameter: Length, count: int) -> float:
    """The farthest that polygon lies off its circle (in): the middle of a side, inside it."""
    half = math.pi / count
    return float(diameter) / 2 * (1 - half / math.tan(half))


def bow(curve: Curve, count: int) -> float:
    """The farthest a cut of straight steps lies off its curve, along the axis (in)."""
    turn = 2 * math.pi / count
    ends = [curve(i * turn) for i in range(count)]
    middles = [curve((i + 0.5) * turn) for i in range(count)]
    return max(
        abs(middle - (ends[i] + ends[(i + 1) % count]) / 2) for i, middle in enumerate(middles)
    )


def divisions(diameter: Length, *curves: Curve) -> int:
    """The fewest divisions, in steps of 24, that keep staves and cuts within 1/64 in of true.

    `MOST` where even that many do not.
    """
    for count in range(STEP, MOST, STEP):
        if off_round(diameter, count) <= OFF_TRUE and all(
            bow(c, count) <= OFF_TRUE for c in curves
        ):
            return count
    return MOST


@dataclass(frozen=True)
class Axis:
    """The axis of a round shell.

    Attributes:
        origin: a point on it (in).
        zero: direction from it to angle 0.
        quarter: direction to angle 90 degrees.
        along: its own direction, so that zero x quarter points against it: staves listed by growing
            angle are then counter-clockwise as seen from inside.
    """

    origin: Point3 = (0.0, 0.0, 0.0)
    zero: Point3 = (1.0, 0.0, 0.0)
    quarter: Point3 = (0.0, -1.0, 0.0)
    along: Point3 = (0.0, 0.0, 1.0)

    def at(self, radius: float, turn: float, height: float) -> Point3:
        """The point at a radius and height (in) and an angle round the axis (radians)."""
        across, aside = radius * math.cos(turn), radius * math.sin(turn)
        x, y, z = (
            o + across * a + aside * b + height * c
            for o, a, b, c in zip(self.origin, self.zero, self.quarter, self.along, strict=True)
        )
        return x, y, z

    def ring(self, diameter: Length, count: int, height: float | Curve) -> tuple[Point3, ...]:
        """The corners round the axis: on a level circle, or where a curve cuts the cylinder."""
        radius = polygon_radius(diameter, count)
        turns: Sequence[float] = [2 * math.pi * i / count for i in range(count)]
        if callable(height):
            return tuple(self.at(radius, turn, height(turn)) for turn in turns)
        return tuple(self.at(radius, turn, height) for turn in turns)
