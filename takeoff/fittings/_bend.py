"""The plane figure of an elbow: its throat and its heel, from one opening to the other.

In the plane of the turn, u goes from the heel to the throat and v along the run at opening 1. The
elbow turns to the right: towards the throat.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from takeoff.lengths import Length

from ._arcs import Arc, Point2, divisions

Step = tuple[Point2, float, bool]
"""A point of a path, its place along the run and whether it lies on a curve."""
EVEN = 1e-9


@dataclass(frozen=True)
class Bend:
    """An elbow seen in the plane of its turn.

    Args:
        angle: of the turn, radians.
        widths: across the openings, in the plane of the turn (in).
        throat: radius of the throat, or the length of its legs when square (in).
        necks: straight parts at either end (in).
        square_throat: whether the throat is a corner.
        square_heel: whether the heel is a corner.
        heel_radius: of a round heel (in); None for the largest that leaves the throat's straight
            parts straight on the heel too.
        fewest: chords that a curve is cut into at least.
    """

    angle: float
    widths: tuple[Length, Length]
    throat: Length
    necks: tuple[Length, Length]
    square_throat: bool
    square_heel: bool
    heel_radius: Length | None = None
    fewest: int = 1

    @property
    def out(self) -> Point2:
        """The direction of the run behind opening 2."""
        return math.sin(self.angle), math.cos(self.angle)

    @property
    def legs(self) -> tuple[float, float]:
        """The straight parts of the throat at either end (in)."""
        more = float(self.throat) if self.square_throat else 0.0
        return float(self.necks[0]) + more, float(self.necks[1]) + more

    @cached_property
    def throat_arc(self) -> Arc:
        """The curve of a round throat."""
        start = float(self.widths[0]), float(self.necks[0])
        return Arc(start, 0.0, float(self.throat), self.angle)

    @cached_property
    def throat_corner(self) -> Point2:
        """The corner of a square throat."""
        return float(self.widths[0]), self.legs[0]

    @cached_property
    def throat_end(self) -> Point2:
        """Where the throat meets opening 2."""
        last = self.throat_corner if self.square_throat else self.throat_arc.at(1)
        return _along(last, self.out, self.legs[1])

    @cached_property
    def heel_end(self) -> Point2:
        """Where the heel meets opening 2."""
        back = -math.cos(self.angle), math.sin(self.angle)
        return _along(self.throat_end, back, float(self.widths[1]))

    @cached_property
    def tangents(self) -> tuple[float, float]:
        """From either opening along the heel to where its two straight lines meet (in)."""
        second = self.heel_end[0] / math.sin(self.angle)
        return self.heel_end[1] - second * math.cos(self.angle), second

    @cached_property
    def heel_corner(self) -> Point2:
        """Where the straight lines of the heel meet."""
        return 0.0, self.tangents[0]

    @property
    def half_turn(self) -> bool:
        """Whether it turns back on itself: the straight lines of the heel never meet."""
        return math.sin(self.angle) < EVEN

    @property
    def room(self) -> float:
        """How much of the shorter straight line of the heel a curve may take (in)."""
        return min(line - leg for line, leg in zip(self.tangents, self.legs, strict=True))

    @cached_property
    def heel_arc(self) -> Arc:
        """The curve of a round heel: tangent to the straight lines from both openings.

        With equal widths and a round throat it has the throat's centre: radius + width.
        """
        if self.half_turn:
            first = max(self.legs[0], self.heel_end[1] + self.legs[1])
            return Arc((0.0, first), 0.0, self.heel_end[0] / 2, self.angle)
        tangent = math.tan(self.angle / 2)
        radius = self.room / tangent if self.heel_radius is None else float(self.heel_radius)
        return Arc((0.0, self.tangents[0] - radius * tangent), 0.0, radius, self.angle)

    @property
    def diagonal(self) -> float:
        """From the throat to the heel along the line between their corners (in)."""
        inner = self.throat_corner if self.square_throat else self.throat_arc.at(0.5)
        outer = self.heel_corner if self.square_heel else self.heel_arc.at(0.5)
        return math.dist(inner, outer)

    @cached_property
    def count(self) -> int:
        """Chords that each of its curves is cut into."""
        arcs = [] if self.square_throat else [self.throat_arc]
        arcs += [] if self.square_heel else [self.heel_arc]
        return max([self.fewest, *(divisions(arc.radius, arc.turn) for arc in arcs)])

    def throat_path(self) -> tuple[Step, ...]:
        """The points of the throat from opening 1 to opening 2; its curve has places 1 to 2."""
        start = float(self.widths[0]), 0.0
        first, last = (start, 0.0, False), (self.throat_end, 3.0, False)
        if self.square_throat:
            return first, (self.throat_corner, 1.5, False), last
        return _distinct((first, *_curve(self.throat_arc, self.count), last))

    def heel_path(self) -> tuple[Step, ...]:
        """The same of the heel."""
        start, end = ((0.0, 0.0), 0.0, False), (self.heel_end, 3.0, False)
        if self.square_heel:
            return start, (self.heel_corner, 1.5, False), end
        curve = _curve(self.heel_arc, self.count)
        return _distinct((start, *curve, end))


def _curve(arc: Arc, count: int) -> Iterator[Step]:
    for i, point in enumerate(arc.points(count)):
        yield point, 1 + i / count, True


def _distinct(path: Sequence[Step]) -> tuple[Step, ...]:
    """The path without the ends of necks that have no length."""
    first, *middle, last = path
    kept = [node for node in middle if all(math.dist(node[0], e[0]) > EVEN for e in (first, last))]
    ends = [
        (end[0], end[1], near[2] and math.dist(end[0], near[0]) <= EVEN)
        for end, near in ((first, middle[0]), (last, middle[-1]))
    ]
    return (ends[0], *kept, ends[1])


def _along(point: Point2, direction: Point2, distance: float) -> Point2:
    return point[0] + direction[0] * distance, point[1] + direction[1] * distance
