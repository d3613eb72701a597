"""Sheets of most value without limits on the copies, exactly, on a lattice of whole numbers.

The guillotine knapsack of `pricing` on every whole size instead of chosen positions: a table of
values only, filled in long straight loops, from which the sheets are read back cut by cut.
"""

import math
from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from nesting.arrays import BoolArray, FloatArray, IntArray, ValueArray
from nesting.exact.patterns import Pattern, pattern
from nesting.exact.positions import normal_positions
from nesting.exact.pricing import Boxes
from nesting.reduce import Reduced

NOISE = 1e-5
"""Relative; the values are added up in single precision."""

ROWS = 64
"""Rows filled at a time: some tenths of a second on the finest lattices."""


class Part(NamedTuple):
    """A room of the table and where its corner lies."""

    i: int
    j: int
    x: int
    y: int


class Lattice:
    """The filled table of one run.

    Args:
        reduced: the problem in integers.
        ways: its boxes.
        value: float64[m], of one copy of each item type.
        step: units of the sheets' coordinates to one of the problem's.
        spent: asked every few rows; once it is true the rest is left and nothing is known.
    """

    def __init__(
        self,
        reduced: Reduced,
        ways: Boxes,
        value: FloatArray,
        step: int = 1,
        spent: Callable[[], bool] = lambda: False,
    ) -> None:
        from nesting.exact._lattice import fill_rows  # noqa: PLC0415

        self._reduced = reduced
        self._ways = ways
        self._step = step
        width, length = int(reduced.bin_w.max()), int(reduced.bin_l.max())
        inside = (ways.width <= width) & (ways.length <= length) & (value[ways.item] > 0)
        self._box = np.flatnonzero(inside)
        self._value = value[ways.item].astype(np.float32)
        self._best = np.zeros((width + 1, length + 1), dtype=np.float32)
        box = self._box
        np.maximum.at(self._best, (ways.width[box], ways.length[box]), self._value[box])
        on_width, on_length = _reached(ways.width, width), _reached(ways.length, length)
        self._whole = False
        for first in range(1, width + 1, ROWS):
            if spent():
                return
            fill_rows(on_width, on_length, self._best, first, min(width + 1, first + ROWS))
        self._whole = True

    @staticmethod
    def steps(reduced: Reduced, ways: Boxes) -> float:
        """Number of inner steps of a run."""
        width, length = int(reduced.bin_w.max()), int(reduced.bin_l.max())
        across = np.flatnonzero(_reached(ways.width, width))
        along = np.flatnonzero(_reached(ways.length, length))
        cuts = float(np.searchsorted(across, across // 2, side="right").sum())
        return cuts * length + across.size * float(np.minimum(along, length - along).sum())

    def most(self, kind: int) -> float:
        """No sheet of the kind is worth more; inf where the table was not filled to the end."""
        if not self._whole:
            return math.inf
        best = self._best[self._reduced.bin_w[kind], self._reduced.bin_l[kind]]
        return float(best) * (1 + NOISE)

    def sheets(self, kind: int, most: int) -> list[Pattern]:
        """The best sheets by their first cut, up to this many; none of a table half filled."""
        if not self._whole:
            return []
        whole = Part(int(self._reduced.bin_w[kind]), int(self._reduced.bin_l[kind]), 0, 0)
        worth = self._worth_of_cuts(whole)
        cuts = np.argsort(-worth, kind="stable")[: most - 1].tolist()
        roots = [[whole], *(self._parts(whole, cut) for cut in cuts)]
        return [self._trace(kind, root) for root in roots]

    def _worth_of_cuts(self, room: Part) -> ValueArray:
        """Value of both parts for every way to cut a room in two: across x first, then y."""
        i, j = room.i, room.j
        best = self._best
        beside = best[1 : i // 2 + 1, j] + best[i - i // 2 : i, j][::-1]
        above = best[i, 1 : j // 2 + 1] + best[i, j - j // 2 : j][::-1]
        return np.concatenate([beside, above])

    def _parts(self, room: Part, cut: int) -> list[Part]:
        """Both parts of the room by one of these cuts."""
        i, j, x, y = room
        if cut < i // 2:
            p = cut + 1
            return [Part(p, j, x, y), Part(i - p, j, x + p, y)]
        p = cut - i // 2 + 1
        return [Part(i, p, x, y), Part(i, j - p, x, y + p)]

    def _trace(self, kind: int, rooms: list[Part]) -> Pattern:
        """The items of the rooms."""
        placed: list[tuple[int, int, int]] = []
        waiting = list(rooms)
        while waiting:
            room = self._shrunk(waiting.pop())
            best = float(self._best[room.i, room.j])
            if best <= 0:
                continue
            box = self._item(room, best)
            if box is not None:
                placed.append((box, room.x, room.y))
                continue
            waiting += self._parts(room, int(self._worth_of_cuts(room).argmax()))
        box_at = np.array([place[0] for place in placed], dtype=np.int64)
        x = self._step * np.array([place[1] for place in placed], dtype=np.int64)
        y = self._step * np.array([place[2] for place in placed], dtype=np.int64)
        ways = self._ways
        return pattern(self._reduced, kind, ways.item[box_at], x, y, ways.turned[box_at])

    def _shrunk(self, room: Part) -> Part:
        """The smallest room in this one that is worth as much."""
        i, j, x, y = room
        worth = self._best[i, j]
        i = int(np.searchsorted(self._best[: i + 1, j], worth))
        return Part(i, int(np.searchsorted(self._best[i, : j + 1], worth)), x, y)

    def _item(self, room: Part, best: float) -> int | None:
        """The item that makes the room worth what it is, if a single one does."""
        box = self._box
        fits = (self._ways.width[box] <= room.i) & (self._ways.length[box] <= room.j)
        enough = fits & (self._value[box] >= best)
        return int(box[np.argmax(enough)]) if enough.any() else None


def _reached(sizes: IntArray, side: int) -> BoolArray:
    """bool[side + 1], sums of the sizes."""
    reached = np.zeros(side + 1, dtype=np.bool_)
    many = np.full(sizes.size, side, dtype=np.int64)
    reached[normal_positions(sizes, many, side)] = True
    return reached
