"""Folding a flat piece into space: the proof that its development is right.

Every facet is turned about its bend lines as a brake turns it. Where a bend has a deduction the
folded facet is drawn to its mould lines, so the folded size can be compared with the asked one.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from .facets import Facet, Hinge, Piece, Point, Point3
from .plane import on_segment, right_of, unit
from .space import cross

Corners: TypeAlias = npt.NDArray[np.float64]
"""The corners of a facet in space, shape (corners, 3), inches."""
Frame: TypeAlias = npt.NDArray[np.float64]
"""A rigid motion, shape (4, 4)."""


def fold(piece: Piece, bent: Collection[Hinge] | None = None) -> dict[str, Corners]:
    """The corners of every facet after folding, by facet name.

    Args:
        piece: the flat piece.
        bent: the bend lines already bent; all of them when None. Lines left out stay flat.

    Returns:
        For each facet an array of shape (corners, 3) in inches; the root facet lies in z = 0 where
        the sheet lay.
    """
    return Foldable(piece).folded(bent)


@dataclass(frozen=True)
class Foldable:
    """A piece to be folded again and again, as in the search for an order of bends."""

    piece: Piece

    @cached_property
    def _turns(self) -> tuple[Frame, ...]:
        """The motion that each bend line gives its child."""
        return tuple(_turn(hinge) for hinge in self.piece.hinges)

    @cached_property
    def _sharp(self) -> dict[str, Corners]:
        """The facets as they lie, where no bend takes up metal."""
        return {facet.name: mould_corners(facet, (), None) for facet in self.piece.facets}

    def folded(self, bent: Collection[Hinge] | None = None) -> dict[str, Corners]:
        """As `fold`."""
        frames: dict[str, Frame] = {self.piece.root.name: np.eye(4)}
        for hinge, turn in zip(self.piece.hinges, self._turns, strict=True):
            here = frames[hinge.parent]
            frames[hinge.child] = here @ turn if bent is None or hinge in bent else here
        flat = self._sharp
        if any(hinge.deduction for hinge in self.piece.hinges):
            flat = {f.name: mould_corners(f, self.piece.hinges, bent) for f in self.piece.facets}
        return {name: _moved(corners, frames[name]) for name, corners in flat.items()}


def fold_in_place(piece: Piece) -> dict[str, Corners]:
    """The folded piece in the fitting's own space: its root put where the fitting wants it.

    Raises:
        KeyError: the piece states no finished place for its root facet.
    """
    motion = placement(piece)
    return {name: _moved(corners, motion) for name, corners in fold(piece).items()}


def placement(piece: Piece) -> Frame:
    """The rigid motion that takes the folded piece to its finished place (shape (4, 4))."""
    root = piece.root
    flat = mould_corners(root, piece.hinges, None)
    return _rigid(flat, as_corners(piece.finished[root.name]))


def worst_miss(piece: Piece) -> float:
    """How far the worst folded face corner is from where the fitting wants it (in)."""
    folded = fold_in_place(piece)
    misses = [
        np.abs(folded[name] - as_corners(target)).max() for name, target in piece.finished.items()
    ]
    return float(np.max(misses))  # unlike Python's own, numpy's maximum does not lose a NaN


def as_corners(points: Collection[Point3]) -> Corners:
    """Points of a finished shape as an array of shape (corners, 3)."""
    return np.array([[float(c) for c in point] for point in points])


def mould_corners(
    facet: Facet, hinges: Collection[Hinge], bent: Collection[Hinge] | None
) -> Corners:
    """The facet drawn to its mould lines: each bent edge moved out by half its deduction."""
    flat = np.array([[float(x), float(y)] for x, y in facet.corners])
    count = len(flat)
    if not any(hinge.deduction for hinge in hinges):
        return np.column_stack([flat, np.zeros(count)])
    moves = np.array(
        [
            _edge_move(facet, hinges, bent, facet.corners[i], facet.corners[(i + 1) % count])
            for i in range(count)
        ]
    )
    if moves.any():
        flat = offset(flat, moves)
    return np.column_stack([flat, np.zeros(count)])


def _edge_move(
    facet: Facet,
    hinges: Collection[Hinge],
    bent: Collection[Hinge] | None,
    start: Point,
    end: Point,
) -> float:
    for hinge in hinges:
        mine = facet.name in (hinge.parent, hinge.child)
        active = bool(hinge.deduction) and (bent is None or hinge in bent)
        if mine and active and on_segment(_middle(hinge), start, end):
            return float(hinge.deduction) / 2
    return 0.0


def _middle(hinge: Hinge) -> Point:
    return (hinge.start[0] + hinge.end[0]) / 2, (hinge.start[1] + hinge.end[1]) / 2


def offset(flat: npt.NDArray[np.float64], moves: npt.NDArray[np.float64]) -> Corners:
    """The polygon with every edge moved outward by its own distance."""
    ends = np.roll(flat, -1, axis=0)
    steps = ends - flat
    normals = np.column_stack([steps[:, 1], -steps[:, 0]])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    reach = (normals * flat).sum(axis=1) + moves
    moved = flat.copy()
    for i in range(len(flat)):
        lines = np.array([normals[i - 1], normals[i]])
        if abs(np.linalg.det(lines)) > 1e-9:
            moved[i] = np.linalg.solve(lines, np.array([reach[i - 1], reach[i]]))
        else:
            moved[i] = flat[i] + normals[i] * max(moves[i - 1], moves[i])
    return moved


def _turn(hinge: Hinge) -> Frame:
    """The motion of the child: close the bend's deduction, then turn about the mould line."""
    deduction = float(hinge.deduction) if hinge.angle else 0.0
    axis2 = unit(hinge.start, hinge.end)
    out2 = right_of(axis2)
    axis = np.array([float(axis2[0]), float(axis2[1]), 0.0])
    outward = np.array([float(out2[0]), float(out2[1]), 0.0])
    start = np.array([float(hinge.start[0]), float(hinge.start[1]), 0.0])
    pivot = start + outward * deduction / 2
    # The child lies to the right of the axis, so a right-hand turn would press it down.
    turn = rotation(axis, -math.radians(hinge.angle))
    frame = np.eye(4)
    frame[:3, :3] = turn
    frame[:3, 3] = pivot + turn @ (outward * deduction - pivot)
    return frame


def rotation(axis: npt.NDArray[np.float64], angle: float) -> npt.NDArray[np.float64]:
    """The right-hand rotation about a unit axis by an angle in radians (Rodrigues), (3, 3)."""
    x, y, z = axis
    skew = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    turned: npt.NDArray[np.float64] = (
        np.eye(3) + math.sin(angle) * skew + (1 - math.cos(angle)) * (skew @ skew)
    )
    return turned


def _rigid(flat: Corners, target: Corners) -> Frame:
    """The rigid motion that takes the flat root onto its finished place, least squares (Kabsch)."""
    middle, goal = flat.mean(axis=0), target.mean(axis=0)
    u, _, vt = np.linalg.svd((flat - middle).T @ (target - goal))
    upright = np.diag([1.0, 1.0, np.sign(np.linalg.det(vt.T @ u.T))])
    turn = vt.T @ upright @ u.T
    frame = np.eye(4)
    frame[:3, :3] = turn
    frame[:3, 3] = goal - turn @ middle
    return frame


def _moved(corners: Corners, frame: Frame) -> Corners:
    moved: Corners = corners @ frame[:3, :3].T + frame[:3, 3]
    return moved


def facing(corners: Mapping[str, Corners], name: str) -> npt.NDArray[np.float64]:
    """The unit normal of a folded facet, pointing to the inside of the fitting (shape (3,))."""
    points = corners[name]
    middle = points.mean(axis=0)
    normal = np.zeros(3)
    for a, b in zip(points, np.roll(points, -1, axis=0), strict=True):
        normal += cross(a - middle, b - middle)
    return normal / np.linalg.norm(normal)
