"""The best layouts so far: what every phase offers to and what a solve falls back on."""

from collections.abc import Callable

from nesting.layouts import Layouts
from nesting.progress import Improved, Progress
from nesting.reduce import Reduced
from nesting.trade_down import trade_down

NOISE = 1e-9  # relative, of sums of cost


def reaches(cost: float, bound: float) -> bool:
    """True when the cost is the bound but for the noise of floating point."""
    return cost <= bound * (1 + NOISE)


class Incumbent:
    """Keeps the better of what it is offered: least missing area first, then least cost.

    Args:
        reduced: what the layouts belong to.
        keeps_rules: layouts it denies are not taken.
        tell: hears of every improvement.
    """

    def __init__(
        self, reduced: Reduced, keeps_rules: Callable[[Layouts], bool], tell: Progress
    ) -> None:
        self.reduced = reduced
        self.best: Layouts | None = None
        self._keeps_rules = keeps_rules
        self._tell = tell

    def offer(self, layouts: Layouts) -> None:
        """Take the layouts if they are better than the best so far."""
        layouts = trade_down(self.reduced, layouts)
        if self.best is not None and self._rank(layouts) >= self._rank(self.best):
            return
        if self._keeps_rules(layouts):
            self.best = layouts
            self._tell(Improved(layouts.cost(self.reduced), len(layouts.stock)))

    def _rank(self, layouts: Layouts) -> tuple[int, float]:
        missing, cost = layouts.rank(self.reduced)
        return missing, round(cost, 9)

    def proved(self, bound: float) -> bool:
        """True when nothing better can exist."""
        if self.best is None:
            return False
        missing, cost = self.best.rank(self.reduced)
        return missing == 0 and reaches(cost, bound)
