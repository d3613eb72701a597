"""What the workers of a search share: the best so far and the cost to get under."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable

from nesting.layouts import Layouts
from nesting.reduce import Reduced

# Costs that differ by less than this part are the same cost.
CLOSE = 1e-9


class Goal:
    """The best layouts so far; asked and bettered by any thread.

    Attributes:
        best: by `Layouts.rank`.
        missing: area missing in it, or inf before there is any.
        limit: the most that sheets may cost to count as better.
        hoped: cost of stock that would do if sheets could always be filled as the best ones were;
            0 before anything is known.
    """

    def __init__(
        self,
        reduced: Reduced,
        start: Layouts | None,
        bound: float,
        report: Callable[[Layouts], None] | None = None,
    ) -> None:
        self.reduced = reduced
        self.bound = bound
        self.report = report
        self.best = Layouts.empty()
        self.missing: float = math.inf
        self.limit = math.inf
        self.hoped = 0.0
        self._lock = threading.Lock()
        if start is not None:
            self._take(start)

    def _take(self, layouts: Layouts) -> None:
        self.best = layouts
        self.missing, cost = layouts.rank(self.reduced)
        if self.missing == 0:
            self.limit = cost - CLOSE * max(1.0, abs(cost))

    def twin(self) -> Goal:
        """Give a goal with the same best that is not shared and reports nothing."""
        return Goal(self.reduced, None if math.isinf(self.missing) else self.best, self.bound)

    def offer(self, layouts: Layouts) -> None:
        """Take layouts where they are better than the best."""
        with self._lock:
            if math.isinf(self.missing) or layouts.rank(self.reduced) < self.best.rank(
                self.reduced
            ):
                self._take(layouts)
                if self.report is not None:
                    self.report(layouts)

    def held(self, missing: float, cost: float) -> None:
        """Learn that stock of a cost held all but a part of the items' worth."""
        if missing < 1:
            hoped = cost / (1 - missing)
            self.hoped = min(self.hoped or hoped, hoped)

    def prove(self) -> None:
        """Take it that no cheaper stock could hold the items."""
        self.bound = math.inf

    def reached(self) -> bool:
        """Tell whether nothing better can exist."""
        return self.missing == 0 and self.limit < self.bound
