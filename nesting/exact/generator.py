"""Column generation on one problem: the linear programme, its pool of sheets, and the knapsacks.

Gilmore and Gomory 1961 and 1965: a linear programme chooses how often each known sheet layout is
cut; its prices go to a knapsack on one sheet, which makes a better layout or shows that there is
none. A dive turns parts of sheets into whole ones: take the whole part, or the most used layout,
and price again for what is left (as Furini, Malaguti, Medina Duran, Persiani and Toth 2012 do for
two-dimensional cutting with several stock sizes).
"""

from collections.abc import Sequence

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.exact.lattice import Lattice
from nesting.exact.linear import CoverLp, Prices
from nesting.exact.patterns import Pattern, Pool, pattern
from nesting.exact.pricing import Boxes, Grid, Grids, Knapsack, boxes
from nesting.exact.rough import ever_finer
from nesting.exact.worth import Worth
from nesting.reduce import Reduced

STEPS_OF_A_KNAPSACK = 1000
"""What one knapsack counts as against a step limit."""

GAIN = 1e-6
"""Relative; a layout must be worth this much more than it costs to be taken up."""

NOISE = 0.2
"""Relative; how far the values and comparisons of a knapsack are shaken, for each vain try."""

COARSEST = 80
"""Cut positions along an axis at first; doubled whenever they give little or nothing new."""

FINEST = 800
"""Most cut positions along an axis where copies are not limited."""

SLOW_ROUNDS, SLOW = 16, 1e-3
"""Rounds after which the cost must have fallen by this part, or else the grid is made finer."""

TRIES = 5
"""Knapsacks tried in vain before the prices count as final."""

SHEETS_OF_A_KIND = 3
"""Layouts taken from one knapsack for each stock kind."""

SHARPENINGS, BETWEEN = 20, 60
"""Exact knapsacks run one after the other, and quick ones between two of them."""

MANY_SHEETS = 40
"""Layouts taken from an exact knapsack for each stock kind."""

CLOSE = 2e-5
"""Relative; a bound as near to the programme's value is not worth another exact knapsack."""

TABLE = 2e8
"""Counts held while a limited knapsack runs; they set the finest grid."""


class Generator:
    """Makes sheets for one problem until none would lower the cost of the mix.

    Args:
        reduced: the problem in integers.
        budget: each knapsack counts as STEPS_OF_A_KNAPSACK steps.
        rng: draws grids and noise.
        known: layouts to begin with.
    """

    def __init__(
        self,
        reduced: Reduced,
        budget: Budget,
        rng: np.random.Generator,
        known: Sequence[Pattern] = (),
    ) -> None:
        self.reduced = reduced
        self.pool = Pool(reduced)
        self._budget = budget
        self._rng = rng
        self._lp = CoverLp(reduced)
        self._ways: Boxes = boxes(reduced)
        self._grids = Grids(reduced, self._ways)
        self._finest = int(np.clip((TABLE / (reduced.item_w.size + 10)) ** (1 / 3), 60, 400))
        area = reduced.item_w * reduced.item_l
        self._most_on_a_sheet = int((reduced.bin_w * reduced.bin_l).max()) // area
        for one in [*singles(reduced, self._ways), *known]:
            self._take(one)

    def allow(self, budget: Budget) -> None:
        """Go on within another budget."""
        self._budget = budget

    def settle(self, wanted: IntArray, rounds: int) -> Prices:
        """Price until no sheet is worth more than it costs, or for so many knapsacks.

        Args:
            wanted: int64[m], copies still wanted; no sheet is made with more.
            rounds: most knapsacks.
        """
        prices = self._lp.solve()
        limited = not self._any_number(wanted)
        finest = self._finest if limited else FINEST
        vain, fineness, mark, marked = 0, min(COARSEST, finest), prices.cost, 0
        for number in range(rounds):
            if self._budget.spent() or vain >= TRIES:
                break
            grid = self._grids.grid(fineness, self._rng)
            if self._price(prices, wanted, grid, vain):
                prices, vain = self._lp.solve(), 0
            elif grid.complete or fineness == finest:
                vain += 1
            else:
                fineness = min(finest, 2 * fineness)
            if number == marked + SLOW_ROUNDS:
                if prices.cost > mark * (1 - SLOW):
                    fineness = min(finest, 2 * fineness)
                mark, marked = prices.cost, number
        return prices

    def dive(self, prices: Prices, spread: float) -> list[Pattern]:
        """Whole sheets for the demand, as far as the stock at hand and the budget go.

        Args:
            prices: of the full demand.
            spread: 0 takes the most used layout each time, more leaves room for others.
        """
        left, at_hand = self.reduced.demand.copy(), self.reduced.bin_qty.copy()
        chosen: list[Pattern] = []
        while left.any() and not self._budget.spent():
            new = self._whole(prices, left, at_hand)
            new = new or self._favourite(prices, left, at_hand, spread)
            if not new:
                break
            chosen += new
            self._lp.want(left, at_hand)
            prices = self.settle(left, TRIES)
        self._lp.want(self.reduced.demand, self.reduced.bin_qty)
        return chosen

    def approach(self, prices: Prices) -> Prices:
        """Go on pricing on ever finer lattices, as far as the budget goes."""
        for rough in ever_finer(self.reduced):
            while rough.affordable(self._budget):
                found = rough.run(prices.item, self._budget)
                if not self._take_worthy(prices, found, self.reduced.demand, MANY_SHEETS):
                    break
                prices = self._lp.solve()
        return prices

    def sharpen(self, prices: Prices) -> tuple[Prices, float]:
        """Go on pricing with exact knapsacks, as far as the budget goes.

        Returns:
            The last prices, and the best bound (see `bound`) that any of them proved.
        """
        worth = Worth(self.reduced, self._budget)
        proved = 0.0
        for _ in range(SHARPENINGS):
            if not worth.known:
                break
            before = self._budget.left()
            knapsack = worth.run(prices.item)
            proved = max(proved, self._proved(prices, knapsack))
            closed = proved >= prices.cost * (1 - CLOSE)
            late = self._budget.spent() or 2 * self._budget.left() < before
            if closed or not worth.exact:
                break
            if not self._take_worthy(prices, knapsack, self.reduced.demand, MANY_SHEETS):
                break
            prices = self._lp.solve()
            if late:
                break
            prices = self.settle(self.reduced.demand, BETWEEN)
        return prices, proved

    def bound(self, prices: Prices) -> float:
        """A proved lower bound on the cost of placing every item by guillotine cuts.

        The prices p of the items are cut until no sheet is worth more than it costs, m the price
        of its kind included: sum(p x demand) - sum(m x stock at hand) is a bound then (Farley 1990,
        "A note on bounding a class of linear programming problems"). The worth of a sheet is that
        of the knapsack without limits on the copies, so the bound is weak where items are wanted
        once only; 0 where the worth is not known.
        """
        worth = Worth(self.reduced, self._budget)
        return self._proved(prices, worth.run(prices.item)) if worth.known else 0.0

    def _proved(self, prices: Prices, knapsack: Knapsack | Lattice) -> float:
        costs = self.reduced.bin_cost + prices.kind
        worth = np.array([knapsack.most(kind) for kind in range(costs.size)])
        ratio = float((worth / np.maximum(costs, 1e-12)).max())
        held = float((prices.kind * np.maximum(self.reduced.bin_qty, 0)).sum())
        scale = max(1.0, ratio) * (1 + 1e-9)
        return max(0.0, float(prices.item @ self.reduced.demand) / scale - held)

    def _any_number(self, wanted: IntArray) -> bool:
        """True when more of each item is wanted than a sheet can hold."""
        return bool((wanted >= self._most_on_a_sheet).all())

    def _take(self, one: Pattern) -> bool:
        new = self.pool.add(one)
        if new:
            self._lp.add(one)
        return new

    def _price(self, prices: Prices, wanted: IntArray, grid: Grid, vain: int) -> int:
        """Take up the layouts that one knapsack finds worth more than they cost; how many."""
        self._budget.use(STEPS_OF_A_KNAPSACK)
        value = np.where(wanted > 0, prices.item, 0.0)
        if not value.any():
            return 0
        noise = NOISE * vain
        shaken = value * (1 + noise * (self._rng.random(value.size) - 0.5))
        limit = None if self._any_number(wanted) else wanted
        seed = int(self._rng.integers(2**62))
        knapsack = Knapsack(self.reduced, self._ways, grid, shaken, limit, noise, seed)
        return self._take_worthy(prices, knapsack, wanted, SHEETS_OF_A_KIND, noise)

    def _take_worthy(
        self,
        prices: Prices,
        knapsack: Knapsack | Lattice,
        wanted: IntArray,
        most: int,
        noise: float = 0.0,
    ) -> int:
        """Take up the sheets that are worth more than they cost; how many."""
        value = np.where(wanted > 0, prices.item, 0.0)
        taken = 0
        for kind in range(self.reduced.bin_w.size):
            cost = float(self.reduced.bin_cost[kind] + prices.kind[kind])
            if knapsack.most(kind) < cost * (1 - noise):
                continue
            for sheet in knapsack.sheets(kind, most):
                worth = float(value @ np.minimum(sheet.counts, wanted))
                if worth > cost * (1 + GAIN):
                    taken += self._take(sheet)
        return taken

    def _whole(self, prices: Prices, left: IntArray, at_hand: IntArray) -> list[Pattern]:
        """The whole part of what the linear programme uses, where every copy is still wanted."""
        chosen = []
        for at in np.flatnonzero(prices.times > 1 - GAIN).tolist():
            one = self._lp.patterns[at]
            for _ in range(int(prices.times[at] + GAIN)):
                if (one.counts > left).any() or at_hand[one.kind] == 0:
                    break
                chosen.append(_use(one, left, at_hand))
        return chosen

    def _favourite(
        self, prices: Prices, left: IntArray, at_hand: IntArray, spread: float
    ) -> list[Pattern]:
        """The most used layout, a little at random."""
        drawn = prices.times * (1 + spread * self._rng.random(prices.times.size))
        for at in np.argsort(-drawn, kind="stable").tolist():
            one = self._lp.patterns[at]
            if prices.times[at] < GAIN:
                break
            if at_hand[one.kind] != 0 and np.minimum(one.counts, left).any():
                return [_use(one, left, at_hand)]
        return []


def _use(one: Pattern, left: IntArray, at_hand: IntArray) -> Pattern:
    """Take one sheet off what is wanted and at hand, both changed in place."""
    np.maximum(left - one.counts, 0, out=left)
    at_hand[one.kind] -= at_hand[one.kind] > 0
    return one


def singles(reduced: Reduced, ways: Boxes) -> list[Pattern]:
    """Each item type alone on the cheapest stock that takes it."""
    found = []
    for item in range(reduced.item_w.size):
        options = [
            (float(reduced.bin_cost[kind]), kind, int(way))
            for way in np.flatnonzero(ways.item == item)
            for kind in range(reduced.bin_w.size)
            if ways.width[way] <= reduced.bin_w[kind] and ways.length[way] <= reduced.bin_l[kind]
        ]
        if options:
            _, kind, way = min(options)
            zero = np.zeros(1, dtype=np.int64)
            found.append(pattern(reduced, kind, ways.item[[way]], zero, zero, ways.turned[[way]]))
    return found
