"""The rectangular body that boxes, straight duct and caps share, and its unfolding into pieces.

Faces are named as one stands before the fitting: front, back, left, right, top, bottom. x runs
from left to right, y from front to back, z up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from takeoff.lengths import Length
from takeoff.pattern.facets import Point, Point3

Vertex = tuple[int, int, int]

FACES: Mapping[str, tuple[Vertex, Vertex, Vertex, Vertex]] = {
    "bottom": ((0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0)),
    "top": ((0, 0, 1), (0, 1, 1), (1, 1, 1), (1, 0, 1)),
    "front": ((0, 0, 0), (0, 0, 1), (1, 0, 1), (1, 0, 0)),
    "back": ((0, 1, 0), (1, 1, 0), (1, 1, 1), (0, 1, 1)),
    "left": ((0, 0, 0), (0, 1, 0), (0, 1, 1), (0, 0, 1)),
    "right": ((1, 0, 0), (1, 0, 1), (1, 1, 1), (1, 1, 0)),
}
"""The corners of each face, counter-clockwise as seen from inside."""

_SEEN_FROM: Mapping[str, tuple[Vertex, Vertex, Vertex]] = {
    "front": ((0, 0, 0), (1, 0, 0), (0, 0, 1)),
    "back": ((1, 1, 0), (-1, 0, 0), (0, 0, 1)),
    "left": ((0, 1, 0), (0, -1, 0), (0, 0, 1)),
    "right": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "top": ((0, 0, 1), (1, 0, 0), (0, 1, 0)),
    "bottom": ((0, 0, 0), (1, 0, 0), (0, 1, 0)),
}
"""Where a person measures a face from: the lower left corner as seen from outside, the direction
to the right and the direction up. Top and bottom are seen from above with the front nearest."""


@dataclass(frozen=True)
class Cuboid:
    """A rectangular body: its sizes along x, y, z (in) and its corner nearest the origin."""

    width: Length
    depth: Length
    height: Length
    origin: Point3 = (Fraction(0), Fraction(0), Fraction(0))

    @property
    def sizes(self) -> Point3:
        """The sizes along x, y and z."""
        return self.width, self.depth, self.height

    def at(self, vertex: Vertex) -> Point3:
        """A corner of the body in space."""
        x, y, z = (o + v * s for o, v, s in zip(self.origin, vertex, self.sizes, strict=True))
        return x, y, z

    def corners(self, face: str) -> tuple[Point3, ...]:
        """The corners of a face in space, counter-clockwise seen from inside."""
        return tuple(self.at(vertex) for vertex in FACES[face])

    def side(self, face: str, edge: int) -> Length:
        """The length of a face's edge (in)."""
        a, b = edge_vertices(face, edge)
        return sum(
            (abs(p - q) * s for p, q, s in zip(a, b, self.sizes, strict=True)), start=Fraction(0)
        )

    def seen_size(self, face: str) -> tuple[Length, Length]:
        """Width and height of a face as a person before it sees them (in)."""
        _, right, up = _SEEN_FROM[face]
        return self._reach(right), self._reach(up)

    def _reach(self, direction: Vertex) -> Length:
        return sum(
            (abs(d) * s for d, s in zip(direction, self.sizes, strict=True)), start=Fraction(0)
        )

    def seen_point(self, face: str, right: Length, up: Length) -> Point:
        """A point of a face, measured from its lower left corner as seen, in the face's own frame.

        The frame has the face's first corner at (0, 0) and its second on the first axis.
        """
        corner, to_right, to_up = _SEEN_FROM[face]
        point = [
            v * s + r * right + u * up
            for v, s, r, u in zip(corner, self.sizes, to_right, to_up, strict=True)
        ]
        first, second, _, last = FACES[face]
        home = [v * s for v, s in zip(first, self.sizes, strict=True)]
        offset = [p - h for p, h in zip(point, home, strict=True)]
        along = sum(
            (abs(b - a) * abs(o) for a, b, o in zip(first, second, offset, strict=True)),
            start=Fraction(0),
        )
        across = sum(
            (abs(b - a) * abs(o) for a, b, o in zip(first, last, offset, strict=True)),
            start=Fraction(0),
        )
        return along, across


def edge_vertices(face: str, edge: int) -> tuple[Vertex, Vertex]:
    """The two ends of a face's edge, counter-clockwise seen from inside."""
    corners = FACES[face]
    return corners[edge % 4], corners[(edge + 1) % 4]


@cache
def neighbour(face: str, edge: int) -> str:
    """The face on the other side of an edge."""
    ends = set(edge_vertices(face, edge))
    return next(f for f, corners in FACES.items() if f != face and ends <= set(corners))


@cache
def shared_edge(face: str, other: str) -> int:
    """The index of the edge of `face` that `other` shares; KeyError when they are opposite."""
    for edge in range(4):
        if neighbour(face, edge) == other:
            return edge
    raise KeyError((face, other))


@cache
def opposite(face: str) -> str:
    """The face across the body."""
    beside = {neighbour(face, edge) for edge in range(4)}
    return next(name for name in FACES if name != face and name not in beside)
