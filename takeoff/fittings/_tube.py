"""Rectangular tubes of any course: four corner lines, and the flat cells between them.

A tube runs from opening 1 to opening 2. Looking along the run, x goes to the right, y along and z
up; side j lies between corner lines j and j + 1 in the order of `SIDES`, and line 0 is the lower
left corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

import numpy as np

from takeoff.pattern.facets import Point3
from takeoff.pattern.space import cross

SIDES = ("bottom", "right", "top", "left")
FLAT = 1e-7
"""Inches off a plane within which corners lie in it."""
SAME_PLACE = 1e-9

Corner = tuple[int, int]
"""A corner line and the number of one of its nodes."""


@dataclass(frozen=True)
class Node:
    """A point of a corner line.

    Args:
        at: where it is (in).
        place: how far along the run, growing; nodes of two lines with one place face each other.
        rolled: whether it lies on a curve, so that lines between such nodes are rolled.
    """

    at: Point3
    place: float
    rolled: bool = False


Line = tuple[Node, ...]


@dataclass(frozen=True)
class Cell:
    """A flat part of a side: what it spans of the side's two corner lines.

    Attributes:
        side: the number of its side.
        first: the span of line `side`, as numbers of the first and the last node.
        second: the span of the next line.
    """

    side: int
    first: tuple[int, int]
    second: tuple[int, int]

    @cached_property
    def corners(self) -> tuple[Corner, ...]:
        """Counter-clockwise as seen from inside, from the end nearer opening 1."""
        mine, other = self.side, (self.side + 1) % 4
        up = [(other, i) for i in range(self.second[0], self.second[1] + 1)]
        back = [(mine, i) for i in range(self.first[1], self.first[0] - 1, -1)]
        return (back[-1], *up, *back[:-1])


@dataclass(frozen=True)
class Crease:
    """Where a warped panel is broken: the side, and the two corners it is bent between."""

    side: int
    start: Corner
    end: Corner


@dataclass(frozen=True)
class Tube:
    """The finished surface of a rectangular fitting with two openings.

    Args:
        lines: the four corner lines, each from opening 1 to opening 2.
        excess: by side, how much longer its true curve is than its chords (in).
    """

    lines: tuple[Line, Line, Line, Line]
    excess: Mapping[int, float] = field(default_factory=dict)

    def at(self, corner: Corner) -> Point3:
        """Where a corner is in space."""
        return self.lines[corner[0]][corner[1]].at

    def opening(self, number: int) -> tuple[Point3, ...]:
        """The four corners of opening 1 or 2."""
        return tuple(line[0 if number == 1 else -1].at for line in self.lines)

    def rolled(self, start: Corner, end: Corner) -> bool:
        """Whether a line between two corners lies in a rolled part."""
        return all(self.lines[line][node].rolled for line, node in (start, end))

    def straight(self, line: int) -> bool:
        """Whether a corner line is one straight edge."""
        return len(self.lines[line]) == 2

    def curved(self, line: int) -> bool:
        """Whether a corner line runs along a curve."""
        nodes = self.lines[line]
        return any(node.rolled for node in nodes[1:-1])

    @cached_property
    def cells(self) -> tuple[tuple[Cell, ...], ...]:
        """The cells of each side in order along the run."""
        return tuple(tuple(self._merged(side)) for side in range(4))

    @cached_property
    def creases(self) -> tuple[Crease, ...]:
        """Where warped panels outside the rolled parts are broken."""
        return tuple(
            Crease(side, *shared)
            for side in range(4)
            for before, after in pairwise(self.cells[side])
            if (shared := _seam(before, after)) and self._is_diagonal(*shared)
            if not self.rolled(*shared)
        )

    def _is_diagonal(self, start: Corner, end: Corner) -> bool:
        places = [self.lines[line][node].place for line, node in (start, end)]
        return abs(places[0] - places[1]) > SAME_PLACE

    def _merged(self, side: int) -> Iterator[Cell]:
        """The cells of a side, neighbours in one plane made one."""
        last: Cell | None = None
        for cell in self._steps(side):
            if last is not None:
                both = Cell(side, (last.first[0], cell.first[1]), (last.second[0], cell.second[1]))
                if in_a_plane([self.at(corner) for corner in both.corners]):
                    last = both
                    continue
                yield last
            last = cell
        if last is not None:
            yield last

    def _steps(self, side: int) -> Iterator[Cell]:
        """The side cut at every node, what is not flat cut once more into triangles."""
        a, b = self.lines[side], self.lines[(side + 1) % 4]
        i = k = 0
        while i + 1 < len(a) or k + 1 < len(b):
            ahead = a[i + 1].place if i + 1 < len(a) else math.inf
            beside = b[k + 1].place if k + 1 < len(b) else math.inf
            if abs(ahead - beside) < SAME_PLACE:
                yield from self._panel(side, i, k)
                i, k = i + 1, k + 1
            elif ahead < beside:
                yield Cell(side, (i, i + 1), (k, k))
                i += 1
            else:
                yield Cell(side, (i, i), (k, k + 1))
                k += 1

    def _panel(self, side: int, i: int, k: int) -> Iterator[Cell]:
        """A panel between two stations; a warped one is broken so that the crease points outward.

        The crease then keeps the full bore, and it is bent the way the other corners are.
        """
        whole = Cell(side, (i, i + 1), (k, k + 1))
        p = [np.array(self.at(corner), dtype=float) for corner in whole.corners]
        rise = float((p[3] - p[0]) @ cross(p[1] - p[0], p[2] - p[0]))
        if in_a_plane([self.at(corner) for corner in whole.corners]):
            yield whole
        elif rise > 0:
            yield Cell(side, (i, i), (k, k + 1))
            yield Cell(side, (i, i + 1), (k + 1, k + 1))
        else:
            yield Cell(side, (i, i + 1), (k, k))
            yield Cell(side, (i + 1, i + 1), (k, k + 1))


def tube(lines: Sequence[Sequence[Node]], excess: Mapping[int, float] | None = None) -> Tube:
    """The tube on four corner lines, nodes dropped where neither side is broken."""
    full = [tuple(line) for line in lines]
    flat = [
        in_a_plane([node.at for node in (*full[side], *full[(side + 1) % 4])]) for side in range(4)
    ]
    kept = [
        _without_straight(line) if flat[number] and flat[number - 1] else line
        for number, line in enumerate(full)
    ]
    return Tube((kept[0], kept[1], kept[2], kept[3]), excess or {})


def in_a_plane(points: Sequence[Point3]) -> bool:
    """Whether points lie in one plane."""
    array = np.array([[float(c) for c in point] for point in points])
    array = array - array.mean(axis=0)
    normal = np.linalg.svd(array, full_matrices=False)[2][-1]
    return bool(np.abs(array @ normal).max() < FLAT)


def _without_straight(line: Line) -> Line:
    """The line without the nodes at which it runs straight on."""
    kept = [line[0]]
    for here, after in pairwise(line[1:]):
        if not _straight_on(kept[-1].at, here.at, after.at):
            kept.append(here)
    return (*kept, line[-1])


def _straight_on(before: Point3, here: Point3, after: Point3) -> bool:
    a, b, c = (np.array([float(x) for x in point]) for point in (before, here, after))
    into, out = b - a, c - b
    off = np.linalg.norm(cross(into, out)) / np.linalg.norm(into) / np.linalg.norm(out)
    return bool(off < FLAT)


def _seam(before: Cell, after: Cell) -> tuple[Corner, Corner]:
    """The line between two cells that follow each other on a side."""
    return (before.side, before.first[1]), ((after.side + 1) % 4, after.second[0])
