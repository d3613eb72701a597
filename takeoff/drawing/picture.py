"""Folded metal as one sees it from above, in front and to the right: a simple isometric picture."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from math import sqrt

import numpy as np

from takeoff.pattern.facets import Hinge, Hole, Piece, Role
from takeoff.pattern.fold import Corners, fold, placement

from . import theme
from .primitives import Area, Drawing, Spot

FOLDED_FLAT = 170.0
"""Degrees at which a fold of 180 is drawn, so that its two layers can be told apart."""

_RIGHT = np.array([1.0, 1.0, 0.0]) / sqrt(2)
_UP = np.array([-1.0, 1.0, 2.0]) / sqrt(6)
_TOWARDS = np.array([1.0, -1.0, 1.0]) / sqrt(3)
"""The eye's axes in the fitting's space: x left to right, y front to back, z up."""

_EVEN = 1e-6
"""Inches of depth, or of overlap, below which two faces do not hide each other."""


@dataclass(frozen=True)
class _Face:
    """A facet as it is seen.

    Attributes:
        points: its corners on the picture.
        depths: how near to the eye each corner is.
        holes: cut-outs on the picture.
        inside: whether it turns the inside of the fitting to the eye.
        slope: how squarely it faces the eye, 0 to 1.
        light: how much its outer side is turned to the light, -1 to 1.
    """

    points: tuple[Spot, ...]
    depths: tuple[float, ...]
    holes: tuple[tuple[Spot, ...], ...]
    inside: bool
    slope: float
    light: float

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        xs, ys = zip(*self.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @cached_property
    def plane(self) -> tuple[float, float, float]:
        """a, b, c with depth = a x + b y + c over the face."""
        rows = np.array([(x, y, 1.0) for x, y in self.points])
        a, b, c = np.linalg.lstsq(rows, np.array(self.depths), rcond=None)[0]
        return float(a), float(b), float(c)

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
    low = min(face.box[0] for face in faces), min(face.box[1] for face in faces)
    high = max(face.box[2] for face in faces), max(face.box[3] for face in faces)
    scale = min((room[0] - 4) / (high[0] - low[0]), (room[1] - 4) / (high[1] - low[1]))
    edge = 2 / scale
    return Drawing(
        (low[0] - edge, low[1] - edge), (high[0] + edge, high[1] + edge), scale, items, title
    )


def _faces(piece: Piece, several: bool) -> Iterator[_Face]:
    opened = replace(piece, hinges=tuple(_opened(piece)))
    motion = placement(piece) if piece.finished else np.eye(4)
    folded = fold(opened)
    for facet in piece.facets:
        if several and facet.role is Role.SEAM:
            continue
        space = folded[facet.name] @ motion[:3, :3].T + motion[:3, 3]
        holes = [hole for hole in piece.holes if hole.facet == facet.name]
        flat = [(float(x), float(y)) for x, y in facet.corners]
        if face := _seen(space, [_in_space(hole, flat, space) for hole in holes]):
            yield face


def _opened(piece: Piece) -> Iterator[Hinge]:
    for hinge in piece.hinges:
        angle = max(-FOLDED_FLAT, min(FOLDED_FLAT, hinge.angle))
        yield replace(hinge, angle=angle)


def _seen(space: Corners, holes: Iterable[Corners]) -> _Face | None:
    """A facet on the picture; None where it is seen edge-on."""
    normal = _normal(space)
    slope = float(normal @ _TOWARDS)
    if abs(slope) < 1e-3:
        return None
    return _Face(
        _on_picture(space),
        tuple(float(depth) for depth in space @ _TOWARDS),
        tuple(_on_picture(hole) for hole in holes),
        slope > 0,
        abs(slope),
        float(abs(normal[2]) - abs(normal[0])),
    )


def _on_picture(space: Corners) -> tuple[Spot, ...]:
    return tuple(zip((space @ _RIGHT).tolist(), (space @ _UP).tolist(), strict=True))


def _normal(space: Corners) -> Corners:
    """The unit normal of a facet, towards the inside of the fitting (shape (3,))."""
    away = space - space.mean(axis=0)
    total: Corners = np.cross(away, np.roll(away, -1, axis=0)).sum(axis=0)
    return total / np.linalg.norm(total)


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
    if a.box[0] >= b.box[2] or b.box[0] >= a.box[2] or a.box[1] >= b.box[3] or b.box[1] >= a.box[3]:
        return 0.0
    common = _overlap(a.points, b.points)
    if len(common) < 3:
        return 0.0
    gaps = [a.depth(spot) - b.depth(spot) for spot in common]
    furthest = max(gaps, key=abs)
    return furthest if abs(furthest) > _EVEN else 0.0


def _overlap(a: Sequence[Spot], b: Sequence[Spot]) -> list[Spot]:
    """What two convex outlines share on the picture (Sutherland and Hodgman, 1974)."""
    shared = list(_counter_clockwise(a))
    clip = _counter_clockwise(b)
    for start, end in zip(clip, [*clip[1:], clip[0]], strict=True):
        if len(shared) < 3:
            return []
        shared = list(_clipped(shared, start, end))
    return shared if abs(_area(shared)) > _EVEN else []


def _clipped(points: Sequence[Spot], start: Spot, end: Spot) -> Iterator[Spot]:
    """The part of an outline to the left of a line."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    sides = [dx * (y - start[1]) - dy * (x - start[0]) for x, y in points]
    for place, (x, y) in enumerate(points):
        before = place - 1
        if sides[before] * sides[place] < 0:
            part = sides[before] / (sides[before] - sides[place])
            from_x, from_y = points[before]
            yield from_x + (x - from_x) * part, from_y + (y - from_y) * part
        if sides[place] >= 0:
            yield x, y


def _counter_clockwise(points: Sequence[Spot]) -> list[Spot]:
    return list(points) if _area(points) > 0 else list(reversed(points))


def _area(points: Sequence[Spot]) -> float:
    if len(points) < 3:
        return 0.0
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs) / 2


def _drawn(faces: Iterable[_Face]) -> Iterator[Area]:
    for face in faces:
        greys = theme.INSIDE if face.inside else theme.OUTSIDE
        grey = greys[1 + (face.light > 0.5) - (face.light < -0.5)]
        yield Area(face.points, grey, theme.EDGE)
        for hole in face.holes:
            yield Area(hole, theme.HOLE_SHADE, theme.EDGE)
