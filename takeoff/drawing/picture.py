"""Folded metal as one sees it from above, in front and to the right: a simple isometric picture."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from math import sqrt

import numpy as np

from takeoff.pattern.facets import Forming, Hinge, Hole, Piece, Role
from takeoff.pattern.fold import Corners, fold, placement
from takeoff.pattern.space import newell

from . import theme
from .boxes import Box, box_of, meet
from .polygons import Polygon, convex_parts, overlap
from .primitives import Area, Drawing, Pen, Spot

FOLDED_FLAT = 170.0
"""Degrees at which a fold of 180 is drawn, so that its two layers can be told apart."""

_RIGHT = np.array([1.0, 1.0, 0.0]) / sqrt(2)
_UP = np.array([-1.0, 1.0, 2.0]) / sqrt(6)
_TOWARDS = np.array([1.0, -1.0, 1.0]) / sqrt(3)
"""The eye's axes in the fitting's space: x left to right, y front to back, z up."""

_EVEN = 1e-6
"""Inches of depth below which two faces do not hide each other."""

SMALLEST = 0.01
"""Inches; a picture is never drawn larger than as if it were this size."""


@dataclass(frozen=True)
class _Face:
    """A facet as it is seen.

    Attributes:
        points: its corners on the picture.
        depths: how near to the eye each corner is.
        holes: cut-outs on the picture.
        inside: whether it turns the inside of the fitting to the eye.
        light: how much its outer side is turned to the light, -1 to 1.
        pen: for its edges.
    """

    points: tuple[Spot, ...]
    depths: tuple[float, ...]
    holes: tuple[tuple[Spot, ...], ...]
    inside: bool
    light: float
    pen: Pen

    @cached_property
    def box(self) -> Box:
        return box_of(self.points)

    @cached_property
    def plane(self) -> tuple[float, float, float]:
        """a, b, c with depth = a x + b y + c over the face."""
        rows = np.array([(x, y, 1.0) for x, y in self.points])
        a, b, c = np.linalg.lstsq(rows, np.array(self.depths), rcond=None)[0]
        return float(a), float(b), float(c)

    @cached_property
    def parts(self) -> list[tuple[Polygon, Box]]:
        """The outline in convex parts, each with its box."""
        return [(part, box_of(part)) for part in convex_parts(self.points)]

    def depth(self, at: Spot) -> float:
        a, b, c = self.plane
        return a * at[0] + b * at[1] + c


def folded_picture(pieces: Sequence[Piece], room: Spot, title: str) -> Drawing:
    """Pieces of one fitting, folded and in place, as large as the room (points) takes them.

    Strips of seams are left out where more than one piece is shown: they lie in each other.
    """
    several = len(pieces) > 1
    faces = [face for piece in pieces for face in _faces(piece, several)]
    items = tuple(_drawn(_back_to_front(faces)))
    low, high = box_of([corner for face in faces for corner in face.box])
    wide, tall = max(high[0] - low[0], SMALLEST), max(high[1] - low[1], SMALLEST)
    scale = min((room[0] - 4) / wide, (room[1] - 4) / tall)
    edge = 2 / scale
    return Drawing(
        (low[0] - edge, low[1] - edge), (high[0] + edge, high[1] + edge), scale, items, title
    )


def _faces(piece: Piece, several: bool) -> Iterator[_Face]:
    opened = replace(piece, hinges=tuple(_opened(piece)))
    motion = placement(piece) if piece.finished else np.eye(4)
    folded = fold(opened)
    rolled = {
        name for h in piece.bends if h.forming is Forming.ROLL for name in (h.parent, h.child)
    }
    for facet in piece.facets:
        if several and facet.role is Role.SEAM:
            continue
        space = folded[facet.name] @ motion[:3, :3].T + motion[:3, 3]
        holes = [hole for hole in piece.holes if hole.facet == facet.name]
        flat = [(float(x), float(y)) for x, y in facet.corners]
        pen = theme.STAVE if facet.name in rolled else theme.EDGE
        yield _seen(space, [_in_space(hole, flat, space) for hole in holes], pen)


def _opened(piece: Piece) -> Iterator[Hinge]:
    for hinge in piece.hinges:
        angle = max(-FOLDED_FLAT, min(FOLDED_FLAT, hinge.angle))
        yield replace(hinge, angle=angle)


def _seen(space: Corners, holes: Iterable[Corners], pen: Pen) -> _Face:
    """A facet on the picture; one that is seen edge-on is a line and hides nothing."""
    normal = _normal(space)
    return _Face(
        _on_picture(space),
        tuple(float(depth) for depth in space @ _TOWARDS),
        tuple(_on_picture(hole) for hole in holes),
        float(normal @ _TOWARDS) > 0,
        float(abs(normal[2]) - abs(normal[0])),
        pen,
    )


def _on_picture(space: Corners) -> tuple[Spot, ...]:
    return tuple(zip((space @ _RIGHT).tolist(), (space @ _UP).tolist(), strict=True))


def _normal(space: Corners) -> Corners:
    """The unit normal of a facet, towards the inside of the fitting (shape (3,))."""
    away = space - space.mean(axis=0)
    total = newell(away)
    return np.asarray(total / np.linalg.norm(total))


def _in_space(hole: Hole, flat: Sequence[Spot], space: Corners) -> Corners:
    """A cut-out carried along with its facet, by the affine motion of the facet's corners."""
    rows = np.array([(x, y, 1.0) for x, y in flat])
    motion = np.linalg.lstsq(rows, space, rcond=None)[0]
    moved: Corners = np.array([(float(x), float(y), 1.0) for x, y in hole.points]) @ motion
    return moved


def _back_to_front(faces: Sequence[_Face]) -> list[_Face]:
    """Faces so ordered that each is painted after all that it hides."""
    behind: dict[int, set[int]] = {place: set() for place in range(len(faces))}
    for a, b in combinations(range(len(faces)), 2):
        order = _nearer(faces[a], faces[b])
        if order > 0:
            behind[a].add(b)
        elif order < 0:
            behind[b].add(a)
    middle = {place: sum(face.depths) / len(face.depths) for place, face in enumerate(faces)}
    ordered: list[_Face] = []
    while behind:
        # Three faces may hide each other in a ring: then the farthest goes first all the same.
        ready = [place for place, hidden in behind.items() if not hidden] or list(behind)
        first = min(ready, key=lambda place: middle[place])
        ordered.append(faces[first])
        del behind[first]
        for hidden in behind.values():
            hidden.discard(first)
    return ordered


def _nearer(a: _Face, b: _Face) -> float:
    """Above 0 where `a` hides a part of `b`, below 0 the other way, 0 where neither does."""
    if not meet(a.box, b.box):
        return 0.0
    common = [
        spot
        for one, of_one in a.parts
        for other, of_other in b.parts
        if meet(of_one, of_other)
        for spot in overlap(one, other)
    ]
    gaps = [a.depth(spot) - b.depth(spot) for spot in common]
    furthest = max(gaps, key=abs, default=0.0)
    return furthest if abs(furthest) > _EVEN else 0.0


def _drawn(faces: Iterable[_Face]) -> Iterator[Area]:
    for face in faces:
        greys = theme.INSIDE if face.inside else theme.OUTSIDE
        grey = greys[1 + (face.light > 0.5) - (face.light < -0.5)]
        yield Area(face.points, grey, face.pen)
        for hole in face.holes:
            yield Area(hole, theme.HOLE_SHADE, theme.EDGE)
