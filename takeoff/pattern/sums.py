"""The sum that makes a developed size: faces as they are, the strips of one edge added together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from takeoff.lengths import Length

from .facets import Forming, Piece, Role
from .marks import Axis, running_marks
from .outline import outline
from .plane import NEAR, extent

FACE, ROLLED = "face", "rolled"
"""What metal is called that is no strip."""


@dataclass(frozen=True)
class Part:
    """Metal between two running marks: how wide it is (in), and what it is."""

    size: Length
    label: str


@dataclass(frozen=True)
class Term:
    """One term of the sum: a face, what is rolled in one go, or the strips of an edge."""

    parts: tuple[Part, ...]

    @property
    def size(self) -> Length:
        """Of its parts together (in)."""
        first, *others = (part.size for part in self.parts)
        return sum(others, first)


def terms(piece: Piece, axis: Axis) -> tuple[Term, ...]:
    """The terms that add up to the blank's size on an axis, in tape order."""
    together = groupby(_parts(piece, axis), key=lambda part: _kind(part, object()))
    return tuple(Term(tuple(parts)) for _, parts in together)


def _kind(part: Part, face: object) -> object:
    """What neighbours must share to be one term: strips go together, a face stands by itself."""
    if part.label == FACE:
        return face
    return ROLLED if part.label == ROLLED else "strips"


def _parts(piece: Piece, axis: Axis) -> Iterator[Part]:
    """What lies between each two marks."""
    way = 0 if axis is Axis.WIDTH else 1
    corner = outline(piece).corner[way]
    stations: list[Length] = [0]
    for mark in running_marks(piece, axis):
        if mark.at - stations[-1] > NEAR:
            stations.append(mark.at)
    for low, high in pairwise(stations):
        yield Part(high - low, _label(piece, way, low + corner, high + corner))


def _label(piece: Piece, way: int, low: Length, high: Length) -> str:
    """What crosses a band of the sheet: a face before a strip, and rolled before flat."""
    rolled = {
        name
        for hinge in piece.hinges
        if hinge.forming is Forming.ROLL and -NEAR < hinge.end[way] - hinge.start[way] < NEAR
        for name in (hinge.parent, hinge.child)
    }
    strips: dict[str, Length] = {}
    for facet in piece.facets:
        first, last = extent(facet.corners)
        if min(last[way], high) - max(first[way], low) < NEAR:
            continue
        if facet.role is Role.FACE:
            return ROLLED if facet.name in rolled else FACE
        strips[facet.label] = last[1 - way] - first[1 - way]
    # at a corner the end of another edge's strip can reach into the band: the longest one fills it
    return max(strips, key=lambda label: strips[label], default=FACE)
