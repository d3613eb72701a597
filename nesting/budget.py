"""One limit for a whole solve: seconds, steps, or a request to stop."""

import math
import time
from collections.abc import Callable

from nesting.errors import InvalidBudgetError


class Budget:
    """Seconds and steps that may still be used; the clock starts on construction.

    Args:
        seconds: None for no time limit.
        steps: None for no step limit. Steps are what a search counts as one try; it says so with
            `use()`. With a step limit and no time limit a solve repeats exactly.
        cancelled: asked often; True stops the work.

    Raises:
        InvalidBudgetError: no limit given, or a negative one.
    """

    def __init__(
        self,
        seconds: float | None = None,
        steps: int | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> None:
        if seconds is None and steps is None and cancelled is None:
            raise InvalidBudgetError("give a limit: seconds, steps or a way to cancel")
        if seconds is not None and not seconds >= 0:
            raise InvalidBudgetError(f"seconds: {seconds!r} is not 0 or more")
        if steps is not None and steps < 0:
            raise InvalidBudgetError(f"steps: {steps!r} is not 0 or more")
        self._end = math.inf if seconds is None else time.monotonic() + seconds
        self._steps = steps
        self._cancelled = cancelled
        self._parent: Budget | None = None

    def left(self) -> float:
        """Seconds left, never negative; inf when there is only a step limit."""
        return max(0.0, self._end - time.monotonic())

    def steps_left(self) -> int | None:
        """Steps left, never negative; None without a step limit."""
        return None if self._steps is None else max(0, self._steps)

    def use(self, steps: int) -> None:
        """Count steps as done, here and in the budget this one is a share of."""
        if self._steps is not None:
            self._steps -= steps
        if self._parent is not None:
            self._parent.use(steps)

    def spent(self) -> bool:
        """True when any limit is reached or the work is cancelled."""
        if self._cancelled is not None and self._cancelled():
            return True
        return self.steps_left() == 0 or self.left() <= 0.0

    def share(self, fraction: float) -> "Budget":
        """A part of what is left now, 0 to 1; what it does not use stays with this one."""
        seconds = None if math.isinf(self._end) else self.left() * fraction
        steps = None if self._steps is None else math.ceil(max(0, self._steps) * fraction)
        part = Budget(seconds, steps, self._cancelled)
        part._parent = self
        return part
