"""Radius offsets: two equal arcs that turn one way and back, with or without a straight between.

Shifted along one axis the duct keeps its width across the run, heel and throat struck from the same
centres. Shifted along both, the upright section is moved along the curve as it is: then all four
sides are cylinders whose lines run along the section's edges, and develop without stretching.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from takeoff.lengths import Length

from ._arcs import Arc, Point2, divisions
from ._tube import SIDES, Line, Node, Tube, tube


@dataclass(frozen=True)
class Ogee:
    """A radius offset.

    Args:
        size: width and height of the duct (in).
        shift: to the right and upward (in).
        length: over all (in).
        necks: straight parts at either end (in).
        radius: of the centre line (in); None for arcs that meet without a straight between.
    """

    size: tuple[Length, Length]
    shift: tuple[Length, Length]
    length: Length
    necks: tuple[Length, Length]
    radius: Length | None = None

    @property
    def run(self) -> float:
        """The length between the necks."""
        return float(self.length - self.necks[0] - self.necks[1])

    @property
    def sideways(self) -> float:
        """The whole shift, square to the run."""
        return math.hypot(*map(float, self.shift))

    @property
    def two_axes(self) -> bool:
        """Whether it is shifted along both axes."""
        return all(self.shift)

    @property
    def axis(self) -> int:
        """The axis of a shift along one: 0 to the side, 1 up."""
        return 0 if self.shift[0] else 1

    @property
    def across(self) -> float:
        """The duct's size in the plane of a shift along one axis."""
        return float(self.size[self.axis])

    @property
    def largest_radius(self) -> float:
        """Centre-line radius of two arcs that meet: L2 + s2 = 4 R s."""
        return (self.run**2 + self.sideways**2) / (4 * self.sideways)

    @property
    def centre_radius(self) -> float:
        """Radius of the centre line."""
        return self.largest_radius if self.radius is None else float(self.radius)

    @cached_property
    def angle(self) -> float:
        """How far it turns one way and back, radians.

        With m the straight between: L = 2 R sin a + m cos a, s = 2 R (1 - cos a) + m sin a. Without
        m: L sin a + (2 R - s) cos a = 2 R.
        """
        double = 2 * self.centre_radius
        reach = math.hypot(self.run, double - self.sideways)
        return math.atan2(self.sideways - double, self.run) + math.asin(min(1.0, double / reach))

    @property
    def straight(self) -> float:
        """The straight between the arcs."""
        double = 2 * self.centre_radius
        rise = self.sideways - double * (1 - math.cos(self.angle))
        along = self.run - double * math.sin(self.angle)
        return rise * math.sin(self.angle) + along * math.cos(self.angle)

    @property
    def count(self) -> int:
        """Chords of each arc."""
        outer = self.centre_radius + (0 if self.two_axes else self.across / 2)
        return divisions(outer, self.angle)

    def tube(self) -> Tube:
        """The finished surface."""
        return self._moved() if self.two_axes else self._turned()

    def _arcs(self, aside: float) -> tuple[Arc, Arc]:
        """The arcs of a line `aside` from the centre line, away from the shift when below zero."""
        first = Arc((aside, float(self.necks[0])), 0.0, self.centre_radius - aside, self.angle)
        u, v = first.at(1)
        start = (
            u + self.straight * math.sin(self.angle),
            v + self.straight * math.cos(self.angle),
        )
        return first, Arc(start, self.angle, self.centre_radius + aside, -self.angle)

    def _path(self, aside: float) -> list[tuple[Point2, float]]:
        """Points of a line beside the centre line, with their places, all on the curve."""
        first, second = self._arcs(aside)
        steps = [(point, 1 + i / self.count) for i, point in enumerate(first.points(self.count))]
        back = [(point, 3 + i / self.count) for i, point in enumerate(second.points(self.count))]
        return steps + (back if self.straight > 1e-9 else back[1:])

    def _line(self, steps: list[tuple[tuple[float, float, float], float]], ends: Line) -> Line:
        """A corner line: its curve between the ends, which carry on straight through the necks."""
        nodes = [Node(at, place, True) for at, place in steps]
        first = nodes if not self.necks[0] else [ends[0], *nodes]
        return tuple(first if not self.necks[1] else [*first, ends[1]])

    def _turned(self) -> Tube:
        """Shifted along one axis: the section turns with the run."""
        hand = math.copysign(1.0, float(self.shift[self.axis]))

        def placed(u: float, v: float, line: int) -> tuple[float, float, float]:
            flat = (1 if line in (1, 2) else -1) * float(self.size[0]) / 2
            up = (1 if line in (2, 3) else -1) * float(self.size[1]) / 2
            return (hand * u, v, up) if self.axis == 0 else (flat, v, hand * u)

        lines = []
        for line in range(4):
            positive = line in ((1, 2) if self.axis == 0 else (2, 3))
            aside = self.across / 2 * (1 if positive else -1) * hand
            steps = [(placed(u, v, line), place) for (u, v), place in self._path(aside)]
            ends = (
                Node(placed(aside, 0.0, line), 0.0),
                Node(placed(self.sideways + aside, float(self.length), line), 9.0),
            )
            lines.append(self._line(steps, ends))
        return tube(lines, self._turned_excess(hand))

    def _turned_excess(self, hand: float) -> Mapping[int, float]:
        low, high = ("left", "right") if self.axis == 0 else ("bottom", "top")
        return {
            SIDES.index(side): sum(arc.excess(self.count) for arc in self._arcs(aside))
            for side, aside in (
                (high, hand * self.across / 2),
                (low, -hand * self.across / 2),
            )
        }

    def _moved(self) -> Tube:
        """Shifted along both: the upright section moved along the centre line.

        Its facets are no rectangles and stay as long as their chords, short by less than 1/100 in.
        """
        ways = [float(part) / self.sideways for part in self.shift]
        lines = []
        for line in range(4):
            x = (1 if line in (1, 2) else -1) * float(self.size[0]) / 2
            z = (1 if line in (2, 3) else -1) * float(self.size[1]) / 2
            steps = [
                ((x + u * ways[0], v, z + u * ways[1]), place) for (u, v), place in self._path(0.0)
            ]
            ends = (
                Node((x, 0.0, z), 0.0),
                Node((x + float(self.shift[0]), float(self.length), z + float(self.shift[1])), 9.0),
            )
            lines.append(self._line(steps, ends))
        return tube(lines)
