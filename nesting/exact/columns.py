"""Column generation as a way to a solution: price, dive, then improve a few sheets at a time.

On the whole problem first: the linear programme's prices, whole sheets from it by a dive, and the
bound that the prices prove. Then, while there is time, some sheets of the best solution are taken
out and column generation is run for their items alone; this smaller problem is quick and its
programme nearly tight (a large neighbourhood search in the sense of Shaw 1998).
"""

from collections.abc import Callable, Sequence

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.exact.choose_sheets import NOISE, better
from nesting.exact.generator import Generator
from nesting.exact.patterns import Pattern, layouts_of, pattern, patterns_of
from nesting.layouts import Layouts
from nesting.reduce import Reduced

ROUNDS = 5000
"""Most knapsacks for the whole problem."""

ROUNDS_OF_A_PART = 60
"""Most knapsacks for some sheets of it."""

FIRST_SHARE = 0.4
"""Part of the budget for the whole problem."""

FEWEST, MOST = 2, 12
"""Sheets taken out at a time."""


def column_generation(
    reduced: Reduced,
    budget: Budget,
    incumbent: Layouts | None = None,
    pool: Sequence[Pattern] = (),
    *,
    seed: int = 0,
    report: Callable[[Layouts], None] | None = None,
) -> tuple[Layouts, float]:
    """Layouts by column generation, and a lower bound.

    Args:
        reduced: the problem in integers.
        budget: limit; a knapsack counts as STEPS_OF_A_KNAPSACK steps.
        incumbent: a solution to improve on.
        pool: more sheet layouts to choose from.
        seed: of all that is drawn.
        report: called with every better solution.

    Returns:
        The best layouts found, never worse than the incumbent; and a proved lower bound on the
        cost of placing every item with guillotine cuts, from exact pricing without limits on the
        copies, or 0 where that would take too long.
    """
    rng = np.random.default_rng(seed)
    best = incumbent if incumbent is not None else Layouts.empty()
    known = [*patterns_of(reduced, best), *pool]
    first = budget.share(FIRST_SHARE)
    make = Generator(reduced, first, rng, known)
    prices = make.settle(reduced.demand, ROUNDS)
    bound = make.bound(prices)
    found = layouts_of(reduced, make.dive(prices, spread=0.0))
    if better(reduced, found, best):
        best = found
        _tell(report, best)
    parts = Parts(reduced, make.pool.patterns(), budget, rng)
    while not (budget.spent() or best.stock.size == 0 or _proved(reduced, best, bound)):
        found = parts.improve(best)
        if found is not best and better(reduced, found, best):
            _tell(report, found)
        best = found
    return best, bound


class Parts:
    """Takes some sheets out of a solution and makes them anew.

    Args:
        reduced: the problem in integers.
        pool: sheet layouts known so far.
        budget: limit.
        rng: draws the sheets.
    """

    def __init__(
        self,
        reduced: Reduced,
        pool: Sequence[Pattern],
        budget: Budget,
        rng: np.random.Generator,
    ) -> None:
        self._reduced = reduced
        self._pool = {one.key: one for one in pool}
        self._budget = budget
        self._rng = rng
        self._size = float(FEWEST + 2)

    def improve(self, best: Layouts) -> Layouts:
        """The solution with some sheets made anew where that does not make it worse."""
        sheets = patterns_of(self._reduced, best)
        out = self._some(sheets)
        removed = [sheets[at] for at in out]
        kept = [one for at, one in enumerate(sheets) if at not in set(out)]
        wanted = self._reduced.demand - sum((one.counts for one in kept), start=0)
        part, types = part_of(self._reduced, wanted, kept)
        known = [_within(part, types, one) for one in self._fitting(wanted)]
        make = Generator(part, self._budget, self._rng, known)
        prices = make.settle(part.demand, ROUNDS_OF_A_PART)
        before = sum(float(self._reduced.bin_cost[one.kind]) for one in removed)
        complete = not best.unplaced(self._reduced).any()
        self._learn(make, types)
        if complete and prices.cost >= before * (1 - NOISE):
            self._size = min(float(MOST), self._size + 0.25)
            return best
        made = [_outside(self._reduced, types, one) for one in make.dive(prices, spread=0.5)]
        self._learn(make, types)
        found = layouts_of(self._reduced, [*kept, *made])
        if better(self._reduced, best, found):
            self._size = max(float(FEWEST), self._size - 0.25)
            return best
        return found

    def _some(self, sheets: Sequence[Pattern]) -> list[int]:
        """Numbers of sheets to take out, those with much waste more often."""
        waste = np.array([self._waste(one) for one in sheets])
        size = min(len(sheets), int(self._size + self._rng.random()))
        odds = waste / waste.max() + 0.2 if waste.max() > 0 else np.ones(len(sheets))
        drawn = self._rng.choice(len(sheets), size, replace=False, p=odds / odds.sum())
        return [int(at) for at in drawn]

    def _waste(self, one: Pattern) -> float:
        sheet = int(self._reduced.bin_w[one.kind] * self._reduced.bin_l[one.kind])
        return float(sheet - one.area(self._reduced))

    def _fitting(self, wanted: IntArray) -> list[Pattern]:
        """Known layouts that hold nothing else than what is wanted."""
        known = list(self._pool.values())
        counts = np.array([one.counts for one in known])
        return [known[at] for at in np.flatnonzero((counts <= wanted).all(axis=1))]

    def _learn(self, make: Generator, types: IntArray) -> None:
        for one in make.pool.patterns():
            new = _outside(self._reduced, types, one)
            self._pool.setdefault(new.key, new)


def part_of(
    reduced: Reduced, wanted: IntArray, kept: Sequence[Pattern]
) -> tuple[Reduced, IntArray]:
    """The problem of the wanted copies with the stock that the kept sheets leave.

    Returns:
        The smaller problem and its item types as types of the whole.
    """
    types = np.flatnonzero(wanted > 0).astype(np.int64)
    used = np.bincount([one.kind for one in kept], minlength=reduced.bin_w.size)
    part = Reduced(
        item_w=reduced.item_w[types],
        item_l=reduced.item_l[types],
        demand=wanted[types],
        turn=reduced.turn[types],
        bin_w=reduced.bin_w,
        bin_l=reduced.bin_l,
        bin_cost=reduced.bin_cost,
        bin_qty=np.where(reduced.bin_qty < 0, reduced.bin_qty, reduced.bin_qty - used),
    )
    return part, types


def _within(part: Reduced, types: IntArray, one: Pattern) -> Pattern:
    """A pattern of the whole in the item types of the part."""
    item = np.searchsorted(types, one.item)
    return pattern(part, one.kind, item, one.x, one.y, one.turned)


def _outside(reduced: Reduced, types: IntArray, one: Pattern) -> Pattern:
    """A pattern of the part in the item types of the whole."""
    return pattern(reduced, one.kind, types[one.item], one.x, one.y, one.turned)


def _proved(reduced: Reduced, best: Layouts, bound: float) -> bool:
    """True when the layouts place every item at no more than the bound."""
    missing, cost = best.rank(reduced)
    return missing == 0 and cost <= bound * (1 + NOISE)


def _tell(report: Callable[[Layouts], None] | None, best: Layouts) -> None:
    if report is not None:
        report(best)
