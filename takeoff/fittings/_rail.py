"""Rails and screw holes on the sides of a straight duct along y."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from takeoff.lengths import Length
from takeoff.pattern.facets import Hole, Point, Point3

from ._cuboid import FACES, Cuboid

HOLE_POINTS = 24
INWARD: Mapping[str, tuple[int, int, int]] = {
    "left": (1, 0, 0),
    "right": (-1, 0, 0),
    "bottom": (0, 0, 1),
    "top": (0, 0, -1),
}
"""The way into the duct from each side."""
OPPOSITE: Mapping[str, str] = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}


@dataclass(frozen=True)
class Rail:
    """One rail.

    Attributes:
        name: what the bench calls it.
        side: the side of the duct it is screwed on.
        origin: the corner of its base farthest from the track (in).
        toward: along y to the track, 1 or -1.
        length: of the rail (in).
    """

    name: str
    side: str
    origin: Point3
    toward: int
    length: Length

    @property
    def along(self) -> Point3:
        """The way it runs: into the duct x towards the track."""
        x, _, z = INWARD[self.side]
        return (-z * self.toward, 0, x * self.toward)

    def at(self, point: Point3) -> Point3:
        """A point of the strip's own space, base along x and leg along z, in the duct."""
        across, along, into = point
        a, n = self.along, INWARD[self.side]
        x, y, z = (
            o + across * t + along * d + into * i
            for o, t, d, i in zip(self.origin, (0, self.toward, 0), a, n, strict=True)
        )
        return x, y, z


def in_side(cuboid: Cuboid, side: str, point: Point3) -> Point:
    """A point of space in the frame of a side: its first corner at (0, 0), the second on x."""
    first, second, _, last = (cuboid.at(vertex) for vertex in FACES[side])

    def along(end: Point3) -> Length:
        reach: Length = Fraction(0)
        for a, b, p in zip(first, end, point, strict=True):
            # a side's edges run along the axes: on each, forwards, back or not at all
            reach = reach + (p - a) * ((b > a) - (b < a))
        return reach

    return along(second), along(last)


def round_hole(facet: str, centre: Point, diameter: Length, label: str) -> Hole:
    """A round hole of that label in a facet, in the facet's own frame."""
    x, y, radius = float(centre[0]), float(centre[1]), float(diameter) / 2
    turns = (math.tau * i / HOLE_POINTS for i in range(HOLE_POINTS))
    points = tuple((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns)
    return Hole(facet, points, label, centre, diameter)
