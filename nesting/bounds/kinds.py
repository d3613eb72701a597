"""Several stock kinds: a linear programme shares the items out, dual feasible functions cut it.

Unknown are the sheets N of each kind and the copies x of each item type on each kind, in each
orientation that fits. Every copy is somewhere; the sheets of a kind are within the stock at hand;
and for every pair f, g of dual feasible functions of a kind (see `dual_feasible`)

    sum over items and orientations of f(w) g(l) x  <=  N,

which every real plan satisfies, sheet by sheet. So the least cost is a lower bound, whichever of
the pairs are asked for: those that the present solution breaks most are added until none is broken
or time is up. Orientations are kept apart here, so turning needs no weaker weight.

The value is not taken from the solver: its prices give every pair a part of its kind's cost, the
pairs give every item a weight, and the bound is summed up from the weights here. Mixing pairs is
what Caprara and Monaci 2009, "Bidimensional packing by bilinear programming", allow too (from
memory).
"""

import time
from dataclasses import dataclass
from typing import Any

import numpy as np

from nesting.arrays import BoolArray, FloatArray
from nesting.bounds.dual_feasible import sides
from nesting.reduce import Reduced

BROKEN = 1e-6
"""A pair must be broken by more than this part of a sheet to be added."""

PAIRS_AT_ONCE = 3
"""Most pairs added for one kind in one round."""

NOISE = 1e-9
"""Relative; taken off the bound for the noise of adding up."""


@dataclass(frozen=True)
class Functions:
    """The dual feasible functions of one stock kind, as shares.

    Attributes:
        across: float64[rows, 2 m], along the width; columns as in `dual_feasible.Sides`.
        along: float64[rows, 2 m], along the length.
        fits: bool[m].
    """

    across: FloatArray
    along: FloatArray
    fits: BoolArray

    def broken(self, copies: FloatArray, sheets: float) -> list[tuple[int, int]]:
        """Pairs (row of across, row of along) that copies on so many sheets break, worst first.

        Args:
            copies: float64[2 m].
            sheets: of this kind.
        """
        held = np.flatnonzero(copies)
        total = (self.across[:, held] * copies[held]) @ self.along[:, held].T
        found: list[tuple[int, int]] = []
        for _ in range(PAIRS_AT_ONCE):
            row, column = divmod(int(total.argmax()), total.shape[1])
            if total[row, column] <= sheets + BROKEN:
                break
            found.append((row, column))
            total[row, :] = 0.0
            total[:, column] = 0.0
        return found

    def shares(self, pair: tuple[int, int]) -> FloatArray:
        """float64[2 m], the product of a pair."""
        return np.asarray(self.across[pair[0]] * self.along[pair[1]], dtype=np.float64)


def kinds_bound(reduced: Reduced, seconds: float) -> float:
    """Lower bound on the cost of placing every item, by prices of pairs of functions.

    Args:
        reduced: the problem in integers.
        seconds: time after which no more pairs are added.

    Returns:
        The bound in cost; 0 where the time did not even do for the functions of all kinds.
    """
    end = time.monotonic() + seconds
    kinds = []
    for kind in range(reduced.bin_w.size):
        kinds.append(functions(reduced, kind))
        if time.monotonic() > end:
            return 0.0
    programme = Programme(reduced, kinds)
    best = 0.0
    while True:
        copies, sheets = programme.solve()
        best = max(best, programme.proved())
        broken = [
            (kind, pair)
            for kind, held in enumerate(copies)
            if held.any()
            for pair in kinds[kind].broken(held, sheets[kind])
        ]
        if not broken or time.monotonic() > end:
            return best
        for kind, pair in broken:
            programme.cut(kind, kinds[kind].shares(pair))


def functions(reduced: Reduced, kind: int) -> Functions:
    """The families of a kind; the first pair is the area."""
    both = sides(reduced, kind)
    return Functions(both.across.shares(), both.along.shares(), both.fits)


class Programme:
    """The linear programme; it begins with the area of each kind and grows by cuts.

    Args:
        reduced: the problem in integers.
        kinds: the functions of each kind.
    """

    def __init__(self, reduced: Reduced, kinds: list[Functions]) -> None:
        from ortools.linear_solver import pywraplp  # noqa: PLC0415

        self._reduced = reduced
        self._solved = False
        self._fits: BoolArray = np.array([np.tile(kind.fits, 2) for kind in kinds])
        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        self._far = self._solver.infinity()
        goal = self._solver.Objective()
        goal.SetMinimization()
        at_hand = np.where(reduced.bin_qty < 0, self._far, reduced.bin_qty)
        self._sheets = [self._solver.NumVar(0.0, float(n), "") for n in at_hand]
        for sheets, cost in zip(self._sheets, reduced.bin_cost.tolist(), strict=True):
            goal.SetCoefficient(sheets, cost)
        m = reduced.demand.size
        rows = [self._solver.Constraint(float(d), self._far) for d in reduced.demand]
        self._copies: dict[tuple[int, int], Any] = {}
        for kind, column in np.argwhere(self._fits).tolist():
            copies = self._solver.NumVar(0.0, self._far, "")
            rows[column % m].SetCoefficient(copies, 1.0)
            self._copies[kind, column] = copies
        self._cuts: list[tuple[int, FloatArray, Any]] = []
        for kind, one in enumerate(kinds):
            self.cut(kind, one.shares((0, 0)))

    def cut(self, kind: int, shares: FloatArray) -> None:
        """Ask for one more pair of a kind."""
        row = self._solver.Constraint(-self._far, 0.0)
        row.SetCoefficient(self._sheets[kind], -1.0)
        for column in np.flatnonzero(self._fits[kind] & (shares > 0)).tolist():
            row.SetCoefficient(self._copies[kind, column], float(shares[column]))
        self._cuts.append((kind, shares, row))

    def solve(self) -> tuple[FloatArray, FloatArray]:
        """Copies, float64[s, 2 m], and sheets, float64[s]; zeros where there is no solution."""
        copies: FloatArray = np.zeros(self._fits.shape)
        self._solved = self._solver.Solve() == self._solver.OPTIMAL
        if not self._solved:
            return copies, np.zeros(len(self._sheets))
        for at, variable in self._copies.items():
            copies[at] = variable.solution_value()
        return copies, np.array([variable.solution_value() for variable in self._sheets])

    def proved(self) -> float:
        """The bound that the prices of the last solution prove, worked out anew.

        Any prices >= 0 of the cuts will do. Those of a kind may sum up to its cost, and beyond it
        only against the stock at hand; an item's weight is the least it has on any kind it fits.
        """
        if not self._solved:  # there are no prices to prove anything by
            return 0.0
        reduced = self._reduced
        price = np.array([max(0.0, -float(row.dual_value())) for _, _, row in self._cuts])
        of_kind = np.array([kind for kind, _, _ in self._cuts])
        total = np.bincount(of_kind, price, minlength=reduced.bin_w.size)
        excess = np.maximum(0.0, total - reduced.bin_cost)
        limited = reduced.bin_qty >= 0
        most = np.maximum(total, reduced.bin_cost)
        part = np.divide(reduced.bin_cost, most, out=np.zeros_like(most), where=most > 0)
        cut_down = np.where(limited, 1.0, part)
        weights = np.zeros(self._fits.shape)
        for paid, (kind, shares, _) in zip(price * cut_down[of_kind], self._cuts, strict=True):
            weights[kind] += paid * shares
        least = np.where(self._fits, weights, np.inf).min(axis=0)
        m = reduced.demand.size
        gained = float(np.minimum(least[:m], least[m:]) @ reduced.demand)
        return max(
            0.0,
            gained * (1 - NOISE) - float((excess * np.where(limited, reduced.bin_qty, 0)).sum()),
        )
