"""Arcs in a plane as runs of chords that stay near enough to the true curve."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

OFF_TRUE = 1 / 80
"""Inches; how far a chord may lie off its arc, a little inside the 1/64 a pattern is held to."""
FEWEST = 4

Point2 = tuple[float, float]


@dataclass(frozen=True)
class Arc:
    """An arc that begins in a direction and turns to the right (to the left for a minus turn).

    Args:
        start: where it begins (in).
        heading: its direction there, radians from the second axis towards the first.
        radius: inches.
        turn: radians, positive to the right.
    """

    start: Point2
    heading: float
    radius: float
    turn: float

    def at(self, share: float) -> Point2:
        """The point at a share of the turn, 0 at the start and 1 at the end."""
        hand = math.copysign(1.0, self.turn)
        ahead = self.heading + share * self.turn
        u = math.cos(self.heading) - math.cos(ahead)
        v = math.sin(ahead) - math.sin(self.heading)
        return (
            self.start[0] + hand * self.radius * u,
            self.start[1] + hand * self.radius * v,
        )

    def points(self, count: int) -> Iterator[Point2]:
        """The points that cut it into so many equal parts, both ends among them."""
        return (self.at(i / count) for i in range(count + 1))

    @property
    def length(self) -> float:
        """Along the arc (in)."""
        return self.radius * abs(self.turn)

    def excess(self, count: int) -> float:
        """How much longer it is than so many chords together (in)."""
        return self.length - 2 * count * self.radius * math.sin(abs(self.turn) / 2 / count)


def divisions(radius: float, turn: float) -> int:
    """The fewest equal chords of an arc that all stay within `OFF_TRUE` of it.

    A chord over the angle a lies R (1 - cos a/2) off its arc.
    """
    if radius <= OFF_TRUE:
        return FEWEST
    step = 2 * math.acos(1 - OFF_TRUE / radius)
    return max(FEWEST, math.ceil(abs(turn) / step))
