"""The covering linear programme over patterns, solved again and again by GLOP as it grows."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from nesting.arrays import FloatArray, IntArray
from nesting.exact.patterns import Pattern
from nesting.reduce import Reduced

SHORTFALL = 10.0
"""Price of leaving out a copy, in times the dearest stock of its area."""

AT_LEAST = 2.0
"""The same, in times the dearest sheet: leaving out must never be the cheaper way."""


@dataclass(frozen=True)
class Prices:
    """A solved linear programme.

    Attributes:
        cost: its value, the price of what is left out included.
        left_out: copies left out, all items together.
        times: float64[patterns], how often each pattern is cut.
        item: float64[m], what one more copy of each item type would cost.
        kind: float64[s], what one more sheet of each limited kind would save; 0 where unlimited.
    """

    cost: float
    left_out: float
    times: FloatArray
    item: FloatArray
    kind: FloatArray


class CoverLp:
    """Least cost of patterns, in parts, that hold the wanted copies.

    Args:
        reduced: the problem in integers; its demand and stock are wanted at first.
    """

    def __init__(self, reduced: Reduced) -> None:
        from ortools.linear_solver import pywraplp  # noqa: PLC0415

        self._reduced = reduced
        self.patterns: list[Pattern] = []
        self._wanted = reduced.demand.copy()
        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        self._goal = self._solver.Objective()
        self._goal.SetMinimization()
        self._columns: list[Any] = []
        infinity = self._solver.infinity()
        self._items = [self._solver.Constraint(float(n), infinity) for n in reduced.demand]
        at_hand = np.where(reduced.bin_qty < 0, infinity, reduced.bin_qty.astype(np.float64))
        self._kinds = [self._solver.Constraint(-infinity, float(n)) for n in at_hand]
        dearest = float((reduced.bin_cost / (reduced.bin_w * reduced.bin_l)).max())
        prices = SHORTFALL * max(dearest, 1e-9) * (reduced.item_w * reduced.item_l)
        prices = np.maximum(prices, AT_LEAST * float(reduced.bin_cost.max()))
        self._left_out = [self._shortfall(i, float(price)) for i, price in enumerate(prices)]

    def _shortfall(self, item: int, price: float) -> Any:  # noqa: ANN401  (OR-Tools has no types)
        column = self._solver.NumVar(0.0, self._solver.infinity(), "")
        self._goal.SetCoefficient(column, price)
        self._items[item].SetCoefficient(column, 1.0)
        return column

    def add(self, new: Pattern) -> None:
        """One more pattern that may be used."""
        column = self._solver.NumVar(0.0, self._solver.infinity(), "")
        self._goal.SetCoefficient(column, float(self._reduced.bin_cost[new.kind]))
        self._kinds[new.kind].SetCoefficient(column, 1.0)
        for item in np.flatnonzero(new.counts).tolist():
            useful = min(int(new.counts[item]), int(self._wanted[item]))
            self._items[item].SetCoefficient(column, float(useful))
        self.patterns.append(new)
        self._columns.append(column)

    def want(self, copies: IntArray, at_hand: IntArray) -> None:
        """Change the wanted copies and the limited stock; patterns count no more than is wanted."""
        infinity = self._solver.infinity()
        for kind in np.flatnonzero(at_hand >= 0).tolist():
            self._kinds[kind].SetBounds(-infinity, float(at_hand[kind]))
        held = np.array([one.counts for one in self.patterns]).reshape(-1, copies.size)
        useful = np.minimum(held, copies)
        changed = np.argwhere(useful != np.minimum(held, self._wanted))
        for at, item in changed.tolist():
            self._items[item].SetCoefficient(self._columns[at], float(useful[at, item]))
        for item in np.flatnonzero(copies != self._wanted).tolist():
            self._items[item].SetBounds(float(copies[item]), infinity)
        self._wanted = copies.copy()

    def solve(self) -> Prices:
        """The optimum for what is wanted now.

        Raises:
            RuntimeError: GLOP gives up; it never should, as everything may be left out.
        """
        status = self._solver.Solve()
        if status != self._solver.OPTIMAL:
            raise RuntimeError(f"the covering programme was not solved (GLOP status {status})")
        limited = self._reduced.bin_qty >= 0
        return Prices(
            cost=float(self._goal.Value()),
            left_out=sum(float(c.solution_value()) for c in self._left_out),
            times=np.array([c.solution_value() for c in self._columns], dtype=np.float64),
            item=np.maximum(0.0, [row.dual_value() for row in self._items]),
            kind=np.where(limited, np.maximum(0.0, [-r.dual_value() for r in self._kinds]), 0.0),
        )
