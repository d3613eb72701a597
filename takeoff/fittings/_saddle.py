"""Where a round branch meets its parent: the cut of the branch and the hole in the parent."""

from __future__ import annotations

import math
from dataclasses import dataclass

from takeoff.pattern.facets import Point, Point3

from ._circle import Axis


@dataclass(frozen=True)
class Saddle:
    """A round branch on a flat wall or on a round parent.

    The wall, or the crest of the parent, is in the plane z = 0 with the parent's axis along x; the
    branch's axis passes the origin and leans towards x.

    Attributes:
        diameter: of the branch (in).
        parent: diameter of the parent (in), not less; None for a flat wall.
        degrees: between the branch's axis and the wall, or the parent's axis; up to 90.
    """

    diameter: float
    parent: float | None
    degrees: float

    @property
    def axis(self) -> Axis:
        """Of the branch; angle 0 is on the side it leans to, where its line is shortest."""
        cos, sin = self._lean()
        return Axis(zero=(sin, 0.0, -cos), quarter=(0.0, -1.0, 0.0), along=(cos, 0.0, sin))

    def height(self, turn: float) -> float:
        """Along the branch's axis from the origin to the cut, at an angle round it (radians; in).

        A point at the height s lies s sin(a) - r cos(t) cos(a) above the wall. That is 0 on a flat
        wall, and sqrt(R2 - r2 sin2 t) - R on a parent of radius R.
        """
        cos, sin = self._lean()
        radius = self.diameter / 2
        return (self._fall(radius * math.sin(turn)) + radius * math.cos(turn) * cos) / sin

    def hole(self, count: int) -> tuple[Point, ...]:
        """The hole's boundary on the parent's flat sheet, along it and round it from the axis (in).

        On a round parent the way round is the arc R asin(y / R). The sheet lies with its inside up,
        so round runs against y; the hole is the same either way.
        """
        cos, sin = self._lean()
        points = []
        for step in range(count):
            turn = 2 * math.pi * step / count
            along = self.height(turn) * cos + self.diameter / 2 * math.cos(turn) * sin
            points.append((along, self._girth(self.diameter / 2 * math.sin(turn))))
        return tuple(points)

    def normal(self, point: Point3) -> Point3:
        """Of the parent's surface at a point near it."""
        if self.parent is None:
            return (0.0, 0.0, 1.0)
        radius = self.parent / 2
        return (0.0, float(point[1]) / radius, (float(point[2]) + radius) / radius)

    @property
    def highest(self) -> float:
        """The cut's highest point along the branch's axis (in): where the line is shortest."""
        return self.height(0.0)

    @property
    def arch(self) -> float:
        """Radius of the flat cut where it arches tightest, on the shortest line (in).

        The curvature there is (1 / R + cos(a) / r) / sin(a); square on a wall the cut is straight.
        """
        cos, sin = self._lean()
        bend = cos / (self.diameter / 2) + (0.0 if self.parent is None else 2 / self.parent)
        return sin / bend if bend else math.inf

    def _lean(self) -> tuple[float, float]:
        at = math.radians(self.degrees)
        return (0.0, 1.0) if self.degrees == 90 else (math.cos(at), math.sin(at))

    def _fall(self, aside: float) -> float:
        """How far the parent's surface lies below its crest, so far aside (in, below 0)."""
        if self.parent is None:
            return 0.0
        radius = self.parent / 2
        return math.sqrt(max(radius * radius - aside * aside, 0.0)) - radius

    def _girth(self, aside: float) -> float:
        if self.parent is None:
            return aside
        radius = self.parent / 2
        return radius * math.asin(max(-1.0, min(1.0, aside / radius)))
