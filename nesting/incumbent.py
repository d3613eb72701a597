"""The best layouts so far: what every phase offers to and what a solve falls back on."""

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

    Attributes:
        reduced: what the layouts belong to.
        best: None until the first offer.
        bound: proved lower bound on the cost, as soon as there is one.
    """

    def __init__(self, reduced: Reduced, tell: Progress) -> None:
        self.reduced = reduced
        self.best: Layouts | None = None
        self.bound = 0.0
        self._tell = tell

    def offer(self, layouts: Layouts) -> None:
        """Take the layouts if they are better than the best so far."""
        layouts = trade_down(self.reduced, layouts)
        if self.best is not None and self._rank(layouts) >= self._rank(self.best):
            return
        self.best = layouts
        self._tell(Improved(layouts.cost(self.reduced), len(layouts.stock)))

    def _rank(self, layouts: Layouts) -> tuple[int, float]:
        missing, cost = layouts.rank(self.reduced)
        return missing, round(cost, 9)

    def proved(self) -> bool:
        """True when nothing better can exist."""
        if self.best is None:
            return False
        missing, cost = self.best.rank(self.reduced)
        return missing == 0 and reaches(cost, self.bound)
