"""A worker that merges items into whole sheets: the state for `kernels.merge` and the way back."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.layouts import Layouts
from nesting.partition import partition
from nesting.reduce import Reduced

SPELL = 2_000
NOISE = 64  # how much chance there is in the choice of a merge
MIX = 64  # weight of the number of roots against their area, 256 being a sheet
HISTORY = 100
RESTART = 30_000  # steps without success before a worker begins anew


class Merger:
    """One worker: a state of merged items that is broken up and merged again."""

    def __init__(self, reduced: Reduced, turning: bool, seed: int) -> None:
        self._reduced = reduced
        self._turning = turning
        self._items = np.repeat(np.arange(len(reduced.demand)), reduced.demand)
        self._seed = seed
        self._begin()

    def _begin(self) -> None:
        from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

        reduced, items = self._reduced, self._items
        number = len(items)
        self._c = np.zeros(m.COUNTERS, dtype=np.int64)
        self._c[m.ITEMS], self._c[m.TURN] = number, self._turning
        self._c[m.BIN_W], self._c[m.BIN_L] = reduced.bin_w[0], reduced.bin_l[0]
        self._c[m.SEED] = self._seed + 1
        self._s = np.full((m.COLUMNS, 2 * number), -1, dtype=np.int64)
        self._s[m.POS] = m.UNUSED
        self._s[m.W, :number] = reduced.item_w[items]
        self._s[m.L, :number] = reduced.item_l[items]
        self._s[m.SPARE, :number] = np.arange(2 * number - 1, number - 1, -1)
        self._c[m.SPARES] = number
        longest = int(max(reduced.bin_w[0], reduced.bin_l[0]))
        self._count = np.zeros((2, 2 * longest + 1), dtype=np.int64)
        for item in range(number):
            m.add_root(self._s, self._c, self._count, item)
        self._history = np.full(HISTORY, number * 1000, dtype=np.int64)
        self._steps = 0

    def spell(self, budget: Budget) -> Layouts | None:
        """Some steps; layouts when all items are merged into whole sheets."""
        from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

        left = budget.steps_left()
        steps = SPELL if left is None else min(SPELL, left)
        made = m.search(self._s, self._c, self._count, self._history, steps, NOISE, MIX)
        budget.use(made)
        self._steps += made
        if self._c[m.ROOTS] == self._c[m.STRIPS]:
            return self._whole_sheets()
        if self._steps > RESTART:
            self._seed = int(self._c[m.SEED])
            self._begin()
        return None

    def _whole_sheets(self) -> Layouts | None:
        from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

        bin_w, bin_l = int(self._c[m.BIN_W]), int(self._c[m.BIN_L])
        strips = _strips(self._s, self._c, self._turning)
        by_width = [strip for strip in strips if strip.width == bin_w]
        by_length = [strip for strip in strips if strip.width != bin_w]
        stacks = partition([strip.length for strip in by_width], bin_l)
        rows = partition([strip.width for strip in by_length], bin_w)
        if stacks is None or rows is None:
            return None
        sheets = [[by_width[i] for i in group] for group in stacks]
        sheets += [[by_length[i] for i in group] for group in rows]
        placed: list[tuple[int, int, int, int, bool]] = []
        for sheet, group in enumerate(sheets):
            x = y = 0
            for strip in group:
                placed += _places(self._s, self._items, sheet, strip, x, y)
                x, y = (x, y + strip.length) if strip.width == bin_w else (x + strip.width, y)
        columns = np.array([row[:4] for row in placed], dtype=np.int64).T
        turned = np.array([row[4] for row in placed], dtype=np.bool_)
        return Layouts(np.zeros(len(sheets), dtype=np.int64), *_four(columns), turned)


@dataclass(frozen=True, slots=True)
class _Strip:
    """A node as it lies."""

    node: int
    width: int
    length: int


def _strips(s: IntArray, c: IntArray, turning: bool) -> list[_Strip]:
    """Every strip as it lies on the sheet."""
    from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

    bin_w, bin_l = int(c[m.BIN_W]), int(c[m.BIN_L])
    strips = []
    for node in s[m.ROOT, : c[m.ROOTS]].tolist():
        width, length = int(s[m.W, node]), int(s[m.L, node])
        upright = width == bin_w or (length == bin_l and not (turning and length == bin_w))
        strips.append(_Strip(node, *((width, length) if upright else (length, width))))
    return strips


def _places(
    s: IntArray, items: IntArray, sheet: int, strip: _Strip, x: int, y: int
) -> Iterator[tuple[int, int, int, int, bool]]:
    """Sheet, item type, x, y, turned of every item of a strip."""
    from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

    node = strip.node
    turned = (strip.width, strip.length) != (s[m.W, node], s[m.L, node])
    if s[m.LEFT, node] < 0:
        yield sheet, int(items[node]), x, y, bool(turned)
        return
    above = (s[m.STACKED, node] == m.ALONG_LENGTH) != turned
    shared = strip.width if above else strip.length
    for part in (int(s[m.LEFT, node]), int(s[m.RIGHT, node])):
        width, length = int(s[m.W, part]), int(s[m.L, part])
        other = length if width == shared else width
        size = (shared, other) if above else (other, shared)
        yield from _places(s, items, sheet, _Strip(part, *size), x, y)
        x, y = (x, y + size[1]) if above else (x + size[0], y)


def _four(columns: IntArray) -> tuple[IntArray, IntArray, IntArray, IntArray]:
    return columns[0], columns[1], columns[2], columns[3]
