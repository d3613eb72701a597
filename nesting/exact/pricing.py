"""Sheets of most value: a guillotine knapsack with any number of stages, for every kind at once.

The dynamic programme of Gilmore and Gomory (1966) in the form of Beasley (1985, "Algorithms for
unconstrained two-dimensional guillotine cutting") over normal positions gives the best filling of
every room, so one run serves all stock kinds.

Without limits on the copies it is exact when all normal positions are used. With limits it is a
heuristic: parts are joined only at the value they have after copies beyond the limit are dropped.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from nesting.arrays import BoolArray, FloatArray, IntArray
from nesting.exact.patterns import Pattern, pattern
from nesting.exact.positions import normal_positions, some_positions
from nesting.reduce import Reduced

TIE = 1e-7
"""Worth of an item's area beside its value, relative to the best value for area: fills up room."""


ITEM, CARRIED, ACROSS, ALONG = 1, 2, 3, 4
"""How a room is used, as the compiled table says it: empty is 0."""


@dataclass(frozen=True)
class Boxes:
    """The ways items may lie: one row for each item type and permitted orientation."""

    item: IntArray
    width: IntArray
    length: IntArray
    turned: BoolArray


def boxes(reduced: Reduced) -> Boxes:
    """All item types as given, then those that may be turned, turned."""
    types = np.arange(reduced.item_w.size, dtype=np.int64)
    may = np.flatnonzero(reduced.turn).astype(np.int64)
    return Boxes(
        item=np.concatenate([types, may]),
        width=np.concatenate([reduced.item_w, reduced.item_l[may]]),
        length=np.concatenate([reduced.item_l, reduced.item_w[may]]),
        turned=np.arange(types.size + may.size) >= types.size,
    )


@dataclass(frozen=True)
class Grid:
    """Cut positions of a knapsack and what follows from them alone.

    Attributes:
        xs: int64[nx] ascending from 0, along the width; `ys` along the length.
        rest_x: int64[nx, nx], index of the largest position <= xs[i] - xs[p]; `rest_y` likewise.
        complete: all normal positions are there.
    """

    xs: IntArray
    ys: IntArray
    rest_x: IntArray
    rest_y: IntArray
    complete: bool


class Grids:
    """Makes grids of any fineness for one problem."""

    def __init__(self, reduced: Reduced, ways: Boxes) -> None:
        self._ways = ways
        self._sides = (reduced.bin_w, reduced.bin_l)
        copies = reduced.demand[ways.item]
        self._every = tuple(
            normal_positions(sizes, copies, int(side.max()))
            for sizes, side in zip((ways.width, ways.length), self._sides, strict=True)
        )

    def steps(self) -> float:
        """Rough number of inner steps of a knapsack on the complete grid, its tables included."""
        nx, ny = (float(every.size) for every in self._every)
        return nx * ny * (nx + ny) / 4 + 10 * (nx * nx + ny * ny)

    def complete(self) -> Grid:
        """The grid of all normal positions."""
        xs, ys = self._every
        return Grid(xs, ys, _rests(xs), _rests(ys), complete=True)

    def grid(self, most: int, rng: np.random.Generator) -> Grid:
        """A grid with at most about `most` positions along each axis."""
        xs, ys = (
            some_positions(every, sizes, side, most, rng)
            for every, sizes, side in zip(
                self._every, (self._ways.width, self._ways.length), self._sides, strict=True
            )
        )
        complete = xs.size == self._every[0].size and ys.size == self._every[1].size
        return Grid(xs, ys, _rests(xs), _rests(ys), complete)


def _rests(positions: IntArray) -> IntArray:
    left = positions[:, None] - positions[None, :]
    found = np.searchsorted(positions, left, side="right") - 1
    return np.maximum(found, 0)


class Knapsack:
    """The filled table of one run: ask it for the sheets of most value.

    Args:
        reduced: the problem in integers.
        ways: its boxes.
        grid: cut positions.
        value: float64[m], of one copy of each item type; items of no value are left out.
        limit: int64[m], most copies on a sheet; None: as many as fit.
        noise: 0 for the best sheets; else comparisons are off by up to half of this part.
        seed: of the noise.
    """

    def __init__(
        self,
        reduced: Reduced,
        ways: Boxes,
        grid: Grid,
        value: FloatArray,
        limit: IntArray | None = None,
        noise: float = 0.0,
        seed: int = 0,
    ) -> None:
        from nesting.exact._knapsack import fill_rooms  # noqa: PLC0415

        self._reduced = reduced
        self._ways = ways
        self._grid = grid
        self._limit = limit
        area = (reduced.item_w * reduced.item_l).astype(np.float64)
        shape = (grid.xs.size, grid.ys.size)
        at_x = np.searchsorted(grid.xs, ways.width)
        at_y = np.searchsorted(grid.ys, ways.length)
        wanted = value > 0 if limit is None else (value > 0) & (limit > 0)
        types = np.flatnonzero(wanted)
        inside = (at_x < shape[0]) & (at_y < shape[1]) & wanted[ways.item]
        self._box = np.flatnonzero(inside).astype(np.int64)
        self._best = np.zeros(shape)
        self._use = np.zeros((*shape, 3), dtype=np.int64)
        fill_rooms(
            grid.xs,
            grid.ys,
            grid.rest_x,
            grid.rest_y,
            np.searchsorted(types, ways.item[self._box]),
            at_x[self._box],
            at_y[self._box],
            (value + TIE * float((value / area).max()) * area)[types],
            (np.zeros(0) if limit is None else limit[types]).astype(np.int16),
            self._best,
            self._use,
            np.zeros((0, 0, 0) if limit is None else (*shape, types.size), dtype=np.int16),
            noise,
            np.uint64(seed),
        )

    def most(self, kind: int) -> float:
        """Value of the best sheet of a kind, the little worth of area included."""
        return float(self._best[self._corner(kind)])

    def sheets(self, kind: int, most: int = 1) -> list[Pattern]:
        """The best sheet of a kind and, up to `most` in all, the best by other first cuts."""
        i, j = self._corner(kind)
        roots = [[Room(i, j, 0, 0)]]
        if most > 1:
            roots += self._by_first_cut(i, j, most - 1)
        return [self._trace(kind, root) for root in roots]

    def _corner(self, kind: int) -> tuple[int, int]:
        """Indices of the largest room inside a sheet of the kind."""
        width, length = self._reduced.bin_w[kind], self._reduced.bin_l[kind]
        i = int(np.searchsorted(self._grid.xs, width, side="right")) - 1
        return i, int(np.searchsorted(self._grid.ys, length, side="right")) - 1

    def _by_first_cut(self, i: int, j: int, most: int) -> list[list["Room"]]:
        """Both rooms of the first cuts with the most valuable sums."""
        grid, best = self._grid, self._best
        across = np.arange(1, int(np.searchsorted(2 * grid.xs, grid.xs[i], side="right")))
        along = np.arange(1, int(np.searchsorted(2 * grid.ys, grid.ys[j], side="right")))
        rx, ry = grid.rest_x[i, across], grid.rest_y[j, along]
        worth = np.concatenate([best[across, j] + best[rx, j], best[i, along] + best[i, ry]])
        cuts = np.concatenate([across, along]).tolist()
        rests = np.concatenate([rx, ry]).tolist()
        return [
            [Room(cuts[at], j, 0, 0), Room(rests[at], j, int(grid.xs[cuts[at]]), 0)]
            if at < across.size
            else [Room(i, cuts[at], 0, 0), Room(i, rests[at], 0, int(grid.ys[cuts[at]]))]
            for at in np.argsort(-worth, kind="stable")[:most].tolist()
        ]

    def _trace(self, kind: int, rooms: list["Room"]) -> Pattern:
        """The items of the rooms, without copies beyond the limit."""
        left = None if self._limit is None else self._limit.copy()
        placed: list[tuple[int, int, int]] = []
        stack = list(rooms)
        while stack:
            room = stack.pop()
            how, one, two = self._use[room.i, room.j].tolist()
            if how == ITEM:
                box = int(self._box[one])
                item = int(self._ways.item[box])
                if left is not None:
                    left[item] -= 1
                if left is None or left[item] >= 0:
                    placed.append((box, room.x, room.y))
            else:
                stack += self._parts(room, how, one, two)
        table = np.array(placed, dtype=np.int64).reshape(len(placed), 3)
        return pattern(
            self._reduced,
            kind,
            self._ways.item[table[:, 0]],
            table[:, 1].copy(),
            table[:, 2].copy(),
            self._ways.turned[table[:, 0]],
        )

    def _parts(self, room: "Room", how: int, one: int, two: int) -> list["Room"]:
        """The rooms that a room is made of."""
        i, j, x, y = room
        if how == CARRIED:
            return [Room(one, two, x, y)]
        if how == ACROSS:
            return [Room(one, j, x, y), Room(two, j, x + int(self._grid.xs[one]), y)]
        if how == ALONG:
            return [Room(i, one, x, y), Room(i, two, x, y + int(self._grid.ys[one]))]
        return []


class Room(NamedTuple):
    """A room of the table, by the indices of its sides, and where its corner lies."""

    i: int
    j: int
    x: int
    y: int
