"""What the best sheet is worth at given prices, never underrated: referee of column generation.

Exactly where sizes are coarse enough, by whichever of both knapsacks has less to do. On a finer
grid all sizes are rounded down to a coarser one: what fits still fits.
"""

from collections.abc import Iterator
from dataclasses import replace

from nesting.arrays import FloatArray
from nesting.budget import Budget
from nesting.exact.lattice import Lattice
from nesting.exact.pricing import Boxes, Grids, Knapsack, boxes
from nesting.reduce import Reduced

POSITIONS_STEPS = 3e8
"""Inner steps up to which the knapsack on cut positions is run: some tenths of a second."""

LATTICE_STEPS = 1e11
"""Inner steps up to which the knapsack on the lattice is run: ten seconds or so."""

STEPS_OF_A_SECOND, STEPS_OF_A_STEP = 8e9, 1e7
"""Inner steps of the lattice in a second, cautiously, and for one step of a budget."""

SHARE = 0.9
"""Part of the budget that one run may take."""


class Worth:
    """Runs the exact knapsack of one problem for changing prices.

    Args:
        reduced: the problem in integers.
        budget: tells how fine a grid can be afforded; every run is counted.
    """

    def __init__(self, reduced: Reduced, budget: Budget) -> None:
        self._budget = budget
        self._reduced: Reduced | None = reduced
        self._ways: Boxes = boxes(reduced)
        self._grids: Grids | None = Grids(reduced, self._ways)
        self._steps = 0.0
        if self._grids.steps() > POSITIONS_STEPS:
            self._grids = None
            self._reduced = next(_coarser(reduced, affordable(self._budget, SHARE)), None)
        if self._reduced is not None and self._grids is None:
            self._ways = boxes(self._reduced)
            self._steps = Lattice.steps(self._reduced, self._ways)
        self.exact = self._reduced is reduced

    @property
    def known(self) -> bool:
        """False where even the coarsest grid is too fine."""
        return self._reduced is not None

    def run(self, value: FloatArray) -> Knapsack | Lattice:
        """The knapsack filled for these values of the items; only where `known`."""
        assert self._reduced is not None
        self._budget.use(1 + int(self._steps / STEPS_OF_A_STEP))
        if self._grids is not None:
            return Knapsack(self._reduced, self._ways, self._grids.complete(), value)
        return Lattice(self._reduced, self._ways, value, spent=self._budget.spent)


def affordable(budget: Budget, share: float) -> float:
    """Inner steps of the lattice that a share of a budget allows for."""
    steps = budget.steps_left()
    if steps is not None:
        return min(LATTICE_STEPS, max(1, steps) * share * STEPS_OF_A_STEP)
    return min(LATTICE_STEPS, budget.left() * share * STEPS_OF_A_SECOND)


def _coarser(reduced: Reduced, steps: float) -> Iterator[Reduced]:
    """The problem rounded down to 1, 2, 4, ... where a run takes no more than these steps.

    Nothing where an item would lose a whole side before.
    """
    step, coarse = 1, reduced
    thinnest = min(int(reduced.item_w.min()), int(reduced.item_l.min()))
    while step <= thinnest:
        if Lattice.steps(coarse, boxes(coarse)) <= steps:
            yield coarse
        step *= 2
        coarse = replace(
            reduced,
            item_w=reduced.item_w // step,
            item_l=reduced.item_l // step,
            bin_w=reduced.bin_w // step,
            bin_l=reduced.bin_l // step,
        )
