"""The errors this package raises.

NestingError
+-- InvalidProblemError (ValueError)   the question can't be asked: a size, count or name is wrong
+-- InvalidBudgetError (ValueError)    no limit at all, or a negative one
+-- PlanFaultError (AssertionError)    verify() found a fault in a plan
"""

from collections.abc import Sequence


class NestingError(Exception):
    """Base of every error raised by this package."""


class InvalidProblemError(NestingError, ValueError):
    """A value of a problem is not allowed; `where` and `value` keep the parts of the message."""

    def __init__(self, where: str, value: object, allowed: str) -> None:
        super().__init__(f"{where}: {value!r} is not allowed; {allowed}")
        self.where = where
        self.value = value
        self.allowed = allowed


class InvalidBudgetError(NestingError, ValueError):
    """A time or step limit that cannot be kept."""


class PlanFaultError(NestingError, AssertionError):
    """A plan breaks a rule of its problem; the message says which sheet and which blanks."""


class NotGuillotineError(NestingError, ValueError):
    """Rectangles that no cut from edge to edge separates; `rects` keeps them."""

    def __init__(self, rects: Sequence[tuple[int, int, int, int]]) -> None:
        shown = ", ".join(f"{w} x {n} at {x}, {y}" for x, y, w, n in rects[:5])
        super().__init__(f"no cut from edge to edge separates {shown}")
        self.rects = rects
