"""The metal on the brake: whether it fouls the beam, the bed or the leaf at a bend.

The model is a hand (leaf) brake. For a bend upwards the metal behind the line lies on the bed under
the upper beam, whose nose stands on the line and leans back above it; the leaf swings the metal
before the line up. What is bent already must not stand where the beam comes down, hang down into
the bed or the leaf, or be swung into the beam. A bend downwards is made with the sheet turned over.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import compress

import numpy as np
import numpy.typing as npt

from takeoff.settings import Brake

from .facets import Hinge
from .fold import Corners, rotation
from .space import Vector, cross

CLEAR = 1 / 32
"""Inches by which metal may stand into the brake: it springs that much."""
FAR = 1e4
"""Inches; further than any brake reaches."""


@dataclass(frozen=True)
class Metal:
    """Facets in space, told apart in one array of corners.

    Attributes:
        names: of the facets.
        counts: how many corners each has, none with none.
        corners: of one facet after the other, shape (corners of all, 3).
    """

    names: tuple[str, ...]
    counts: npt.NDArray[np.intp]
    corners: Corners

    @classmethod
    def of(cls, facets: Mapping[str, Corners]) -> Metal:
        """The metal of some facets, each of shape (corners, 3)."""
        counts = np.array([len(corners) for corners in facets.values()], dtype=np.intp)
        return cls(tuple(facets), counts, np.vstack([np.empty((0, 3)), *facets.values()]))

    @cached_property
    def starts(self) -> npt.NDArray[np.intp]:
        """Where the corners of each facet begin."""
        return np.cumsum(self.counts) - self.counts

    def facet(self, name: str) -> Corners:
        """The corners of one facet, shape (corners, 3)."""
        place = self.names.index(name)
        start = self.starts[place]
        return self.corners[start : start + self.counts[place]]

    def only(self, wanted: Sequence[bool]) -> Metal:
        """Some of its facets."""
        chosen = np.array(wanted, dtype=bool)
        names = tuple(compress(self.names, wanted))
        return Metal(names, self.counts[chosen], self.corners[np.repeat(chosen, self.counts)])

    def moved(self, turn: Vector, shift: Vector) -> Metal:
        """It turned (3, 3) and then shifted (3,)."""
        return Metal(self.names, self.counts, self.corners @ turn.T + shift)

    def beside(self, *others: Metal) -> Metal:
        """It and other metal together."""
        every = (self, *others)
        return Metal(
            tuple(name for metal in every for name in metal.names),
            np.concatenate([metal.counts for metal in every]),
            np.concatenate([metal.corners for metal in every]),
        )

    def enters(self, room: Vector) -> bool:
        """Whether any part of a facet lies inside a convex room.

        Args:
            room: its sides, shape (sides, 4): a unit direction inwards and the least reach along
                it.
        """
        if not self.names:
            return False
        inside = self.corners @ room[:, :3].T > room[:, 3]
        near = np.logical_or.reduceat(inside, self.starts).all(axis=1)
        if not near.any():
            return False
        return bool(inside.all(axis=1).any()) or any(
            _survives(self.corners[start : start + count], room)
            for start, count in zip(self.starts[near], self.counts[near], strict=True)
        )


@dataclass(frozen=True)
class Scene:
    """Half-bent metal on the brake: x along the bend line, y back under the beam, z up.

    Attributes:
        held: the facets that stay under the beam.
        lifted: the facets that the leaf moves, before it swings.
        swung: the same after it has swung.
        start: where along x the bend line starts.
        end: where it ends.
    """

    held: Metal
    lifted: Metal
    swung: Metal
    start: float
    end: float

    @cached_property
    def before(self) -> Metal:
        """All of it before the leaf swings."""
        return self.held.beside(self.lifted)

    @cached_property
    def ever(self) -> Metal:
        """All of it, before the leaf swings and after."""
        return self.before.beside(self.swung)

    def fouls(self, low: float, high: float, brake: Brake) -> bool:
        """Whether a nose bar from low to high on the line meets metal that is in its way."""
        depth, height = float(brake.nose_depth), float(brake.beam_height)
        lean = math.hypot(depth, height)
        beam = np.array(
            [
                [1, 0, 0, low + CLEAR],
                [-1, 0, 0, CLEAR - high],
                [0, -1, 0, -depth],
                [0, 0, 1, CLEAR],
                [0, 0, -1, -height],
                [0, height / lean, -depth / lean, CLEAR],
            ]
        )
        # Fingers only shorten the beam; at the end of the brake there is no bed either.
        left, right = (low, high) if FAR in (-low, high) else (-FAR, FAR)
        bed = np.array(
            [
                [1, 0, 0, left + CLEAR],
                [-1, 0, 0, CLEAR - right],
                [0, 1, 0, -depth],
                [0, -1, 0, -depth],
                [0, 0, -1, CLEAR],
            ]
        )
        # Metal that lies flat across the line beyond its ends would be bent there too.
        under, before = _flat(low, high, 0, depth), _flat(left, right, -depth, 0)
        return (
            self.ever.enters(beam)
            or self.before.enters(bed)
            or self.lifted.enters(under)
            or self.held.enters(before)
        )


def put_on_brake(
    metal: Metal, hinges: Sequence[Hinge], held: str, swings: Collection[str]
) -> Scene:
    """The metal moved so that the line lies on the x axis with the held side behind it.

    Args:
        metal: the facets as they stand now, strips formed elsewhere left out.
        hinges: the bend lines of this stroke, on one straight line.
        held: the facet under the beam at the first of them.
        swings: the facets that the leaf moves.
    """
    frame, length = _frame(metal, hinges, held)
    placed = metal.moved(frame[:3, :3], frame[:3, 3])
    swinging = [name in swings for name in metal.names]
    lifted = placed.only(swinging)
    turn = rotation(np.array([1.0, 0.0, 0.0]), -math.radians(abs(hinges[0].angle)))
    still = placed.only([not each for each in swinging])
    return Scene(still, lifted, lifted.moved(turn, np.zeros(3)), 0.0, length)


def _flat(left: float, right: float, near: float, far: float) -> Vector:
    """The thin room of what lies flat on the table between two distances from the line."""
    return np.array(
        [
            [1, 0, 0, left + CLEAR],
            [-1, 0, 0, CLEAR - right],
            [0, 1, 0, near + CLEAR],
            [0, -1, 0, CLEAR - far],
            [0, 0, 1, -CLEAR],
            [0, 0, -1, -CLEAR],
        ]
    )


def _frame(metal: Metal, hinges: Sequence[Hinge], held: str) -> tuple[Vector, float]:
    """The rigid motion onto the brake (4, 4), and the length of the line."""
    points = metal.facet(held)
    normal = cross(points[1] - points[0], points[2] - points[1])
    normal = normal / np.linalg.norm(normal) * (1.0 if hinges[0].angle > 0 else -1.0)
    a, b = _line_in_space(metal, hinges)
    along = (b - a) / np.linalg.norm(b - a)
    if (points.mean(axis=0) - a) @ cross(normal, along) < 0:
        a, b, along = b, a, -along
    axes = np.array([along, cross(normal, along), normal])
    frame = np.eye(4)
    frame[:3, :3] = axes
    frame[:3, 3] = -axes @ a
    return frame, float((b - a) @ along)


def _line_in_space(metal: Metal, hinges: Sequence[Hinge]) -> tuple[Vector, Vector]:
    """The two ends of the whole line on the half-bent metal."""
    ends = [
        point
        for hinge in hinges
        for point in _shared(metal.facet(hinge.child), metal.facet(hinge.parent))
    ]
    far = max(ends, key=lambda point: float(np.linalg.norm(point - ends[0])))
    near = max(ends, key=lambda point: float(np.linalg.norm(point - far)))
    return near, far


def _shared(polygon: Corners, other: Corners) -> Corners:
    """The corners of a polygon that lie on the boundary of another."""
    starts = other
    spans = np.concatenate([other[1:], other[:1]]) - starts
    reach = polygon[:, None, :] - starts[None]
    share = (reach * spans).sum(axis=2) / (spans * spans).sum(axis=1)
    off = reach - np.clip(share, 0, 1)[:, :, None] * spans
    found: Corners = polygon[((off * off).sum(axis=2) < 1e-8).any(axis=1)]
    return found


def _survives(polygon: Corners, room: Vector) -> bool:
    """Whether something is left of a polygon when a room's sides clip it."""
    for side in room:
        reach = polygon @ side[:3] - side[3]
        if (reach <= 0).all():
            return False
        if (reach < 0).any():
            polygon = _clip(polygon, reach)
    return True


def _clip(polygon: Corners, reach: Vector) -> Corners:
    """The part of a polygon with a positive reach (Sutherland and Hodgman, 1974)."""
    kept: list[Vector] = []
    for i in range(len(polygon)):
        here, there = reach[i - 1], reach[i]
        if here * there < 0:
            kept.append(polygon[i - 1] + here / (here - there) * (polygon[i] - polygon[i - 1]))
        if there > 0:
            kept.append(polygon[i])
    return np.array(kept)
