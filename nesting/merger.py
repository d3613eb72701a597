"""A worker that merges items into whole sheets: the state for `kernels.merge` and the way back."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.layouts import Layouts
from nesting.partition import Way, fill_sheets
from nesting.reduce import Reduced

SPELL = 2_000
NOISE = 64  # how much chance there is in the choice of a merge
MIX = 64  # weight of the number of roots against their area, 256 being a sheet
HISTORY = 100
RESTART = 30_000  # steps without success before a worker begins anew
SCATTERED = 0.25  # of the items: with so many pieces still apart the equal sides are chance
FAILURES = 100  # strips that made up no sheets, before they are taken for chance


class Merger:
    """One worker: a state of merged items that is broken up and merged again.

    Attributes:
        hopeless: the items were hardly cut from whole sheets without waste.
    """

    def __init__(self, reduced: Reduced, turning: bool, seed: int) -> None:
        self._reduced = reduced
        self._turning = turning
        self._items = np.repeat(np.arange(len(reduced.demand)), reduced.demand)
        self._seed = seed
        self._failures = 0
        self.hopeless = False
        self._begin()

    def _begin(self) -> None:
        from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

        reduced, items = self._reduced, self._items
        number = len(items)
        self._c = np.zeros(m.COUNTERS, dtype=np.int64)
        self._c[m.ITEMS], self._c[m.TURN] = number, self._turning
        self._c[m.LARGEST] = (reduced.bin_w * reduced.bin_l).max()
        self._kinds = np.stack([reduced.bin_w, reduced.bin_l])
        self._c[m.SEED] = self._seed + 1
        self._s = np.full((m.COLUMNS, 2 * number), -1, dtype=np.int64)
        self._s[m.POS] = m.UNUSED
        self._s[m.SPARE, :number] = np.arange(2 * number - 1, number - 1, -1)
        self._c[m.SPARES] = number
        self._count = np.zeros((2, 2 * int(self._kinds.max()) + 1), dtype=np.int64)
        for node, item in enumerate(items.tolist()):
            size = int(reduced.item_w[item]), int(reduced.item_l[item])
            m.new_node(self._s, self._c, self._kinds, node, *size)
            m.add_root(self._s, self._c, self._count, node)
        self._history = np.full(HISTORY, number * 1000, dtype=np.int64)
        self._steps = 0

    def spell(self, budget: Budget) -> Layouts | None:
        """Some steps; layouts when all items are merged into whole sheets."""
        from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

        left = budget.steps_left()
        steps = SPELL if left is None else min(SPELL, left)
        made = m.search(
            self._s, self._c, self._kinds, self._count, self._history, steps, NOISE, MIX
        )
        budget.use(made)
        self._steps += made
        apart = int(self._c[m.ROOTS] - self._c[m.STRIPS])
        self.hopeless = apart > SCATTERED * len(self._items) or self._failures > FAILURES
        if apart == 0:
            self._failures += 1
            return self._whole_sheets()
        if self._steps > RESTART:
            self._seed = int(self._c[m.SEED])
            self._begin()
        return None

    def _whole_sheets(self) -> Layouts | None:
        from nesting.kernels import merge as m  # noqa: PLC0415 - numba loads when needed

        nodes = self._s[m.ROOT, : self._c[m.ROOTS]].tolist()
        sizes = [(int(self._s[m.W, node]), int(self._s[m.L, node])) for node in nodes]
        ways = list(_ways(self._reduced, sizes, self._turning))
        order = sorted(range(len(nodes)), key=lambda at: -sizes[at][0] * sizes[at][1])
        sheets = fill_sheets(ways, self._reduced.bin_qty.tolist(), order)
        if sheets is None:
            return None
        placed: list[tuple[int, int, int, int, bool]] = []
        for sheet, (number, group) in enumerate(sheets):
            way = ways[number]
            x = y = 0
            for at in group:
                strip = _Strip(nodes[at], *way.lying(at))
                placed += _places(self._s, self._items, sheet, strip, x, y)
                x, y = (x, y + strip.length) if way.across else (x + strip.width, y)
        columns = np.array([row[:4] for row in placed], dtype=np.int64).T
        turned = np.array([row[4] for row in placed], dtype=np.bool_)
        stock = np.array([ways[number].kind for number, _ in sheets], dtype=np.int64)
        return Layouts(stock, *_four(columns), turned)


@dataclass(frozen=True, slots=True)
class _Strip:
    """A node as it lies."""

    node: int
    width: int
    length: int


@dataclass(frozen=True, slots=True)
class _Stack(Way):
    """Strips as they lie on a sheet: over its width (`across`) or along its length."""

    side: int
    across: bool

    def lying(self, strip: int) -> tuple[int, int]:
        """Width and length of a strip."""
        size = self.sizes[strip]
        return (self.side, size) if self.across else (size, self.side)


def _ways(reduced: Reduced, strips: list[tuple[int, int]], turning: bool) -> Iterator[_Stack]:
    """Each kind filled with strips that span its width, and with those that span its length."""
    for kind, (width, length) in enumerate(
        zip(reduced.bin_w.tolist(), reduced.bin_l.tolist(), strict=True)
    ):
        for side, whole, across in ((width, length, True), (length, width, False)):
            sizes = [_spanning(strip, side, whole, across, turning) for strip in strips]
            yield _Stack(kind, whole, sizes, side, across)


def _spanning(strip: tuple[int, int], side: int, whole: int, across: bool, turning: bool) -> int:
    """Size of a strip along the side that is filled, when it spans the other one; else 0."""
    upright = strip if across else strip[::-1]
    for spans, size in (upright, upright[::-1]) if turning else (upright,):
        if spans == side and size <= whole:
            return size
    return 0


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
