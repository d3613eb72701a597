"""The surface between a rectangle and a circle: four flat sides and four cone corners.

The plane through a side of the rectangle that touches the circle touches it where the circle runs
along that side, however far the circle is off the middle; between two sides the surface is a cone
with its point in the rectangle's corner. Flats and cones touch along lines, so it all unrolls.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from takeoff.lengths import Length
from takeoff.pattern.facets import Point3
from takeoff.pattern.patches import Patch

from ._circle import Axis
from ._shell import EdgeName, Ring

SIDES = ("right", "front", "left", "back")
"""In order round the fitting, counter-clockwise as seen from inside with the circle on top."""
MIDDLE = (0.25, 0.75)
"""A seam down a side starts within this part of it."""


@dataclass(frozen=True)
class Quarters:
    """A rectangle in the floor, its middle at the origin, and a circle above it.

    Attributes:
        width: of the rectangle, from left to right (in).
        height: from front to back (in).
        diameter: of the circle (in).
        rise: from the rectangle to the circle (in).
        offset: of the circle's centre from the rectangle's, to the right and to the back (in).
        divisions: of a quarter of the circle.
    """

    width: Length
    height: Length
    diameter: Length
    rise: Length
    offset: tuple[Length, Length]
    divisions: int

    @property
    def axis(self) -> Axis:
        """Of the circle."""
        return Axis((float(self.offset[0]), float(self.offset[1]), float(self.rise)))

    @property
    def rim(self) -> tuple[Point3, ...]:
        """The corners of the circle's polygon, from where it touches the right side on."""
        return self.axis.ring(self.diameter, 4 * self.divisions, 0.0)

    def corner(self, number: int, z: float = 0.0) -> Point3:
        """The rectangle's corner after side `number`."""
        x, y = float(self.width) / 2, float(self.height) / 2
        a, b = ((x, -y), (-x, -y), (-x, y), (x, y))[number % 4]
        return a, b, z

    def apex(self, side: int) -> Point3:
        """Where a side touches the circle."""
        return self.rim[side % 4 * self.divisions]

    def foot(self, side: int) -> Point3:
        """Where a seam down a side starts: square below the circle, kept in the side's middle."""
        start, end = self.corner(side - 1), self.corner(side)
        step = [b - a for a, b in zip(start, end, strict=True)]
        reach = [b - a for a, b in zip(start, self.apex(side), strict=True)]
        part = sum(s * r for s, r in zip(step, reach, strict=True)) / sum(s * s for s in step)
        part = min(max(part, MIDDLE[0]), MIDDLE[1])
        x, y, z = (a + part * s for a, s in zip(start, step, strict=True))
        return x, y, z

    def runs(self) -> tuple[float, float, float, float]:
        """How far each side leans over from its edge to the circle (in), inward or outward."""
        radius = float(self.diameter) / 2
        x, y = (float(each) for each in self.offset)
        half_w, half_h = float(self.width) / 2, float(self.height) / 2
        return (
            abs(half_w - x - radius),
            abs(half_h + y - radius),
            abs(half_w + x - radius),
            abs(half_h - y - radius),
        )

    def seam_sides(self, pieces: int) -> tuple[int, ...]:
        """The sides that seams run down: the shortest first, then the one across."""
        first = min(range(4), key=lambda side: math.dist(self.foot(side), self.apex(side)))
        return tuple(sorted((first + turn) % 4 for turn in (0, 2, 1, 3)[:pieces]))

    def body(self, pieces: int) -> Ring:
        """The flat sides and the corners, cut down as many sides."""
        seams = self.seam_sides(pieces)
        patches: list[Patch] = []
        lower: list[EdgeName] = []
        upper: list[EdgeName] = []
        cuts: list[int] = []
        for side, name in enumerate(SIDES):
            for part, (start, end) in enumerate(self._parts(side, seams)):
                if part:
                    cuts.append(len(patches))
                label = f"{name} side {part + 1}" if side in seams else f"{name} side"
                patches.append(Patch(label, (start, end, self.apex(side))))
                lower.append((label, 0))
            for patch in self._corner_patches(side):
                patches.append(patch)
                upper.append((patch.name, 1))
        return Ring("body", tuple(patches), tuple(lower), tuple(upper), tuple(cuts))

    def collar(self, pieces: int, length: float) -> Ring:
        """A straight collar below the rectangle, cut down the same sides."""
        seams = self.seam_sides(pieces)
        patches: list[Patch] = []
        cuts: list[int] = []
        brake: set[str] = set()
        for side, name in enumerate(SIDES):
            for part, (start, end) in enumerate(self._parts(side, seams)):
                label = f"{name} collar {part + 1}" if side in seams else f"{name} collar"
                if part:
                    cuts.append(len(patches))
                else:
                    brake.add(label)
                patches.append(Patch(label, (_down(start, length), _down(end, length), end, start)))
        return Ring(
            "square collar",
            tuple(patches),
            tuple((patch.name, 0) for patch in patches),
            tuple((patch.name, 2) for patch in patches),
            tuple(cuts),
            frozenset(brake),
        )

    def flat_turn(self, corner: int) -> float:
        """Degrees the rectangle's edge turns at a corner of the flat pattern."""
        around = [
            self.corner(corner - 1),
            *self.rim[corner * self.divisions : (corner + 1) * self.divisions],
            self.apex(corner + 1),
            self.corner(corner + 1),
        ]
        return 180 - sum(_angle(self.corner(corner), a, b) for a, b in pairwise(around))

    def _parts(self, side: int, seams: Sequence[int]) -> list[tuple[Point3, Point3]]:
        start, end = self.corner(side - 1), self.corner(side)
        if side not in seams:
            return [(start, end)]
        return [(start, self.foot(side)), (self.foot(side), end)]

    def _corner_patches(self, side: int) -> list[Patch]:
        """The cone after a side, in flat triangles from the rectangle's corner."""
        rim, first = self.rim, side * self.divisions
        corner = self.corner(side)
        return [
            Patch(
                f"{SIDES[side]} corner {step + 1}",
                (corner, rim[(first + step + 1) % len(rim)], rim[first + step]),
            )
            for step in range(self.divisions)
        ]


def _down(point: Point3, length: float) -> Point3:
    return point[0], point[1], point[2] - length


def _angle(at: Point3, a: Point3, b: Point3) -> float:
    """Degrees between the lines from a point to two others."""
    one = [float(p) - float(q) for p, q in zip(a, at, strict=True)]
    two = [float(p) - float(q) for p, q in zip(b, at, strict=True)]
    dot = sum(p * q for p, q in zip(one, two, strict=True))
    return math.degrees(math.acos(max(-1.0, min(1.0, dot / math.hypot(*one) / math.hypot(*two)))))
