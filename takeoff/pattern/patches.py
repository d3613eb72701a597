"""Flat patches in space: how they meet, and how one is laid on the sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from takeoff.lengths import Length

from .facets import Point, Point3
from .fold import offset
from .plane import NEAR, dot, minus, right_of, unit
from .space import Vector, cross, newell

MEET = 1e-6
"""Inches within which two corners in space are the same corner."""


@dataclass(frozen=True)
class Patch:
    """A flat face of the finished fitting: corners in space (in), seen from inside."""

    name: str
    corners: tuple[Point3, ...]

    @cached_property
    def space(self) -> Vector:
        """Its corners, shape (corners, 3)."""
        return np.array([[float(c) for c in corner] for corner in self.corners])

    @cached_property
    def normal(self) -> Vector:
        """Its unit normal towards the inside, shape (3,)."""
        total = newell(self.space)
        return np.asarray(total / np.linalg.norm(total))


@lru_cache(maxsize=1024)  # the layout of a piece asks for every pair many times
def shared(parent: Patch, child: Patch) -> tuple[int, int]:
    """The numbers of the edge that two patches share, in each; ValueError when they share none."""
    a, b = parent.space, child.space
    starts = np.abs(a[:, None] - np.concatenate([b[1:], b[:1]])).max(axis=2)
    ends = np.abs(np.concatenate([a[1:], a[:1]])[:, None] - b).max(axis=2)
    met = np.argwhere(np.maximum(starts, ends) < MEET)
    if len(met):
        edge, back = met[0].tolist()
        return edge, back
    raise ValueError(f"{child.name!r} shares no edge with {parent.name!r}")


def bend_angle(parent: Patch, child: Patch) -> float:
    """Degrees the child is bent from the parent's plane, positive towards the inside."""
    edge, _ = shared(parent, child)
    normal, other = parent.normal, child.normal
    turn = math.degrees(math.atan2(np.linalg.norm(cross(normal, other)), float(normal @ other)))
    rise = float(_into(child.space, parent.space[edge]) @ normal)
    return turn if rise >= 0 else -turn


def _into(corners: Vector, start: Vector) -> Vector:
    """The direction from an edge's end into the polygon's middle."""
    return np.asarray(corners.mean(axis=0) - start)


def upright(patch: Patch, right: int) -> tuple[Point, ...]:
    """The root's corners in its own plane, the edge `right` going up."""
    corners = patch.space
    origin = corners[right % len(corners)]
    up = corners[(right + 1) % len(corners)] - origin
    up = up / np.linalg.norm(up)
    across = cross(up, patch.normal)
    return tuple(
        (float((corner - origin) @ across), float((corner - origin) @ up)) for corner in corners
    )


def beside(
    patch: Patch, back: int, line: tuple[Point, Point], level: Point, deduction: Length
) -> tuple[Point, ...]:
    """The patch's mould-line corners, laid along a flat edge of its parent.

    The patch's own edge `back` runs the other way. Its mould line lies half the deduction inside
    the parent's flat edge and ends level with the parent's own mould line there.
    """
    start, end = line
    corners = patch.space
    origin = corners[(back + 1) % len(corners)]
    forward = corners[back] - origin
    forward = forward / np.linalg.norm(forward)
    out = cross(forward, patch.normal)
    direction = unit(start, end)
    outward = right_of(direction)
    slack = float(dot(minus(level, start), direction))
    laid = []
    for corner in corners:
        along = float((corner - origin) @ forward) + slack
        across = float((corner - origin) @ out) - float(deduction) / 2
        laid.append(
            (
                float(start[0]) + float(direction[0]) * along + float(outward[0]) * across,
                float(start[1]) + float(direction[1]) * along + float(outward[1]) * across,
            )
        )
    return tuple(laid)


def common(line: tuple[Point, Point], other: tuple[Point, Point]) -> tuple[Point, Point]:
    """The part of an edge that an edge along it, running the other way, has too."""
    (start, end), (far, near) = line, other
    direction = unit(start, end)
    if dot(minus(near, start), direction) > NEAR:
        start = near
    if dot(minus(end, far), direction) > NEAR:
        end = far
    return start, end


def cut_back(sharp: tuple[Point, ...], insets: Sequence[float]) -> tuple[Point, ...]:
    """The polygon with every edge moved inward by its own distance."""
    flat = np.array([[float(x), float(y)] for x, y in sharp])
    moved = offset(flat, -np.array(insets))
    return tuple((float(x), float(y)) for x, y in moved)


def to_sheet(patch: Patch, laid: tuple[Point, ...]) -> Callable[[Point3], Point]:
    """From points in a patch's plane in space to points on the sheet."""
    corners = patch.space
    middle = corners.mean(axis=0)
    on_sheet = np.array([[float(x), float(y)] for x, y in laid])
    goal = on_sheet.mean(axis=0)
    motion, *_ = np.linalg.lstsq(corners - middle, on_sheet - goal, rcond=None)

    def place(point: Point3) -> Point:
        x, y = (np.array([float(c) for c in point]) - middle) @ motion + goal
        return float(x), float(y)

    return place
