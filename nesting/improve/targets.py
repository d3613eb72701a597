"""Which stock a worker fills next: one choice of sheets at a time, cheaper than the best."""

from __future__ import annotations

import numpy as np

from nesting.arrays import IntArray
from nesting.layouts import Layouts
from nesting.reduce import Reduced
from nesting.stock_sets import stock_sets

MOST_SETS = 200_000
FEW = 5  # sheets: all choices of them can be tried
MANY = 14  # items on a sheet from which its area matters more than its sides
SOME = 8  # the same where the sheets are few
FIRST = 0.5  # part of the way from the best cost to the cheapest choice, before anything is known
STEP = 0.003  # of the cost: how much shyer a failure makes
WINDOW = 0.3  # of the saving aimed at: choices this much dearer than the aim will do
NEXT = 3  # choices just below the best cost, when nothing cheaper is to be hoped for


class Targets:
    """Choices of stock cheaper than the best layouts.

    What the search could put on a choice that did not take all items tells how full sheets get at
    all, and so the cost to aim at. Among choices of about that cost the one tried least comes
    first, and of these the one of the fewest sheets: they have the least edge.
    """

    def __init__(self, reduced: Reduced, sets: IntArray, rng: np.random.Generator) -> None:
        self._sets = sets
        self._costs = sets @ reduced.bin_cost
        self._sheets = sets.sum(axis=1)
        self._tries = np.zeros(len(sets), dtype=np.int64)
        self._rng = rng
        self._shy = STEP

    @staticmethod
    def of(
        reduced: Reduced, best: Layouts, bound: float, limit: float, rng: np.random.Generator
    ) -> Targets | None:
        """Give all choices from the bound to the limit.

        Returns:
            None where they are too many; and where sheets hold so few items that sizes which suit
            the items matter more than their area.
        """
        sheets = len(best.stock)
        suited = reduced.demand.sum() < (SOME if sheets <= FEW else MANY) * sheets
        if suited or len(reduced.bin_cost) == 1 or not (reduced.bin_cost > 0).all():
            return None
        sets = stock_sets(reduced, bound, limit, MOST_SETS)
        return None if sets is None else Targets(reduced, sets, rng)

    def next(self, limit: float, hoped: float) -> IntArray | None:
        """Give int64[s], the copies to open of each kind; None when nothing is that cheap.

        Args:
            limit: the most it may cost.
            hoped: the cost for which the items could do at best, as far as is known; else 0.
        """
        end = int(np.searchsorted(self._costs, limit, side="right"))
        if end == 0:
            return None
        least = float(self._costs[0])
        aim = max(least, hoped * (1 + self._shy)) if hoped else limit - FIRST * (limit - least)
        low = int(np.searchsorted(self._costs, aim))
        high = int(np.searchsorted(self._costs, aim + WINDOW * max(0.0, limit - aim), side="right"))
        if low >= end:
            low = max(0, end - NEXT)
        near = np.arange(low, min(end, max(high, low + NEXT)))
        order = np.lexsort((self._rng.random(len(near)), self._sheets[near], self._tries[near]))
        chosen = int(near[order[0]])
        self._tries[chosen] += 1
        return np.asarray(self._sets[chosen], dtype=np.int64)

    def succeeded(self) -> None:
        """Aim bolder."""
        self._shy = max(-STEP, self._shy - STEP)

    def failed(self) -> None:
        """Aim shyer."""
        self._shy += STEP
