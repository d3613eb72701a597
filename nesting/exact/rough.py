"""Good sheets at changing prices, quickly: knapsacks on lattices coarser than the problem's.

All sizes are rounded up to the coarser units and the stock down, so that what is found there fits.
"""

from collections.abc import Iterator
from dataclasses import replace

from nesting.arrays import FloatArray
from nesting.budget import Budget
from nesting.exact.lattice import Lattice
from nesting.exact.pricing import Boxes, boxes
from nesting.exact.worth import STEPS_OF_A_STEP, affordable
from nesting.reduce import Reduced

EASY = 3e8
"""Inner steps of a run on the first lattice: some hundredths of a second."""

PART = 0.2
"""Part of the budget that one run may take."""


class Rough:
    """The knapsack of one problem in units `step` times its own.

    Args:
        reduced: the problem in integers.
        step: 2 or more.
    """

    def __init__(self, reduced: Reduced, step: int) -> None:
        self._step = step
        self._reduced = replace(
            reduced,
            item_w=-(-reduced.item_w // step),
            item_l=-(-reduced.item_l // step),
            bin_w=reduced.bin_w // step,
            bin_l=reduced.bin_l // step,
        )
        self._ways: Boxes = boxes(self._reduced)
        self._steps = Lattice.steps(self._reduced, self._ways)

    @property
    def easy(self) -> bool:
        """True where a run is next to nothing."""
        return self._steps <= EASY

    def affordable(self, budget: Budget) -> bool:
        """True where a run takes a small part of the budget only."""
        return self._steps <= affordable(budget, PART) and not budget.spent()

    def run(self, value: FloatArray, budget: Budget) -> Lattice:
        """The knapsack filled for these values of the items."""
        budget.use(1 + int(self._steps / STEPS_OF_A_STEP))
        return Lattice(self._reduced, self._ways, value, self._step, budget.spent)


def ever_finer(reduced: Reduced) -> Iterator[Rough]:
    """Lattices of ever smaller units, all of them larger than the problem's own."""
    step, found = 2, [Rough(reduced, 2)]
    while not found[-1].easy:
        step *= 2
        found.append(Rough(reduced, step))
    return reversed(found)
