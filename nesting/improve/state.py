"""The working state of one search worker: the kernels' arrays for a `Reduced`, in and out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.arrays import FloatArray, IntArray
from nesting.improve.audit import audit
from nesting.kernels import table
from nesting.kernels.leftovers import WHOLE, value, value_table
from nesting.kernels.table import HEAD, KIND
from nesting.layouts import Layouts
from nesting.model import ShearLimits
from nesting.reduce import Reduced

POWER = 1.2
ROWS_PER_ITEM = 6


@dataclass
class State:
    """Trees of a search in progress, with what the kernels must know of the problem.

    Attributes:
        reduced: the problem.
        table: see `nesting.kernels.table`.
        log: writes since the last move that stood.
        knots: worth of areas, see `value_table`.
        worth: int64[m], worth of one missing copy of each item type.
        items: int64[4, m], width, length, whether it may be turned, worth of its area as leftover.
        kinds: int64[5, s], width, length, copies at hand, worth of the cost and of an empty one.
        places: int64[m], room for the counts of `recreate`.
    """

    reduced: Reduced
    table: IntArray
    log: IntArray
    knots: FloatArray
    worth: IntArray
    items: IntArray
    kinds: IntArray
    places: IntArray

    @staticmethod
    def of(reduced: Reduced) -> State:
        """Give a state with no sheet open and every item missing."""
        price = np.rint(WHOLE * reduced.bin_cost / max(reduced.bin_cost.max(), 1e-300)).astype(
            np.int64
        )
        largest = int((reduced.bin_w * reduced.bin_l).max())
        knots = value_table(largest, POWER)
        empty = _worth_left(knots, reduced.bin_w * reduced.bin_l)
        kinds = np.stack([reduced.bin_w, reduced.bin_l, reduced.bin_qty, price, empty])
        loss = _worth_left(knots, reduced.item_w * reduced.item_l)
        items = np.stack([reduced.item_w, reduced.item_l, reduced.turn.astype(np.int64), loss])
        types, copies = len(reduced.demand), int(reduced.demand.sum())
        worth = np.maximum(1, np.rint(WHOLE * (items[0] * items[1] / largest))).astype(np.int64)
        s = table.empty_table(ROWS_PER_ITEM * copies + 64, types, kinds.shape[1])
        s[HEAD, table.LEAST_W] = np.where(reduced.turn, items[:2].min(axis=0), items[0]).min()
        s[HEAD, table.LEAST_H] = np.where(reduced.turn, items[:2].min(axis=0), items[1]).min()
        s[HEAD, table.LIMITED : table.MAX_CUT + 1] = _limits(reduced.shear)
        log = np.zeros(table.LOG_ROOM, dtype=np.int64)
        for item in range(types):
            table.begin(s, log)
            if reduced.demand[item]:
                table.add_missing(s, log, worth, item, int(reduced.demand[item]))
        places = np.zeros(types, dtype=np.int64)
        return State(reduced, s, log, knots, worth, items, kinds, places)

    def snapshot(self) -> Layouts:
        """Give the layouts with coordinates."""
        return layouts_of(self.table, self.reduced)

    def check(self) -> None:
        """Rebuild all that follows from the trees and compare: AssertionError where it differs."""
        audit(self)


def _worth_left(knots: FloatArray, areas: IntArray) -> IntArray:
    """What areas are worth as leftovers."""
    return np.array([value(knots, area) for area in areas.tolist()], dtype=np.int64)


def _limits(shear: ShearLimits) -> list[int]:
    """Whether there are any limits, and each of them; 0 for none."""
    found = [shear.stages or 0, int(shear.first_across), shear.min_strip, shear.max_cut or 0]
    return [int(any(found)), *found]


def layouts_of(s: IntArray, reduced: Reduced) -> Layouts:
    """Give coordinates to the trees of a table."""
    sheets = int(s[HEAD, table.SHEETS])
    found: list[tuple[int, int, int, int, bool]] = []
    for sheet in range(sheets):
        ahead = [(int(s[table.SROOT, sheet]), 0, 0)]
        while ahead:
            n, x, y = ahead.pop()
            kind = int(s[KIND, n])
            if kind != table.STRUCTURE:
                turned = int(s[table.W, n]) != int(reduced.item_w[kind])
                found.append((sheet, kind, x, y, turned))
                continue
            child = int(s[table.FIRST, n])
            while child >= 0:
                ahead.append((child, x, y))
                if s[table.DIR, n] == 0:
                    x += int(s[table.W, child])
                else:
                    y += int(s[table.H, child])
                child = int(s[table.NEXT, child])
    columns = np.array(found, dtype=np.int64).reshape(-1, 5).T
    return Layouts(
        s[table.SKIND, :sheets].copy(),
        columns[0],
        columns[1],
        columns[2],
        columns[3],
        columns[4].astype(np.bool_),
    )
