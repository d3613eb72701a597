"""The cut between two pieces of a gored elbow."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ._circle import Axis
from ._flange import NormalAt


@dataclass(frozen=True)
class Mitre:
    """The cut between two pieces.

    Attributes:
        diameter: of the pipe (in).
        radius: of the elbow's centreline (in).
        degrees: between a piece's square section and its cut: a backset.
    """

    diameter: float
    radius: float
    degrees: float

    @property
    def slope(self) -> float:
        """Tangent of the backset."""
        return math.tan(math.radians(self.degrees))

    def height(self, turn: float) -> float:
        """From the middle of a piece to its cut, at an angle from the throat (radians; in).

        h(t) = (CLR - d/2 cos t) tan(backset): the mitre plane holds the axis of the bend.
        """
        return (self.radius - self.diameter / 2 * math.cos(turn)) * self.slope

    def depth(self, turn: float) -> float:
        """The same to the cut on the other side: below 0."""
        return -self.height(turn)

    def normal(self, joint: int) -> NormalAt:
        """The normal of a joint's mitre plane."""
        at = math.radians(self.degrees * (2 * joint + 1))
        return lambda _point: (-math.sin(at), 0.0, math.cos(at))

    def axis(self, number: int) -> Axis:
        """The axis of a piece, in the plane y = 0 with the bend's axis on y."""
        at = math.radians(2 * self.degrees * number)
        out = (math.cos(at), 0.0, math.sin(at))
        return Axis(
            origin=(self.radius * out[0], 0.0, self.radius * out[2]),
            zero=(-out[0], 0.0, -out[2]),
            quarter=(0.0, 1.0, 0.0),
            along=(-out[2], 0.0, out[0]),
        )
