"""One worker of a search: its own trees, driven in short spells towards the shared goal."""

from __future__ import annotations

import math

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.improve.goal import Goal
from nesting.improve.settings import Settings
from nesting.improve.state import State
from nesting.improve.targets import Targets
from nesting.kernels import dials
from nesting.kernels.climb import climb
from nesting.kernels.energy import energy
from nesting.kernels.leftovers import WHOLE
from nesting.kernels.ruin import close_costly, close_surplus
from nesting.kernels.table import HEAD, MISSING
from nesting.model import ShearLimits
from nesting.reduce import Reduced

# An energy that no state has.
ANY = 1 << 62

# Moves without fewer items missing after which other stock is taken; the next time more.
PATIENCE, PATIENCE_PER_ITEM, LONGER = 4000, 30, 1.15


class Worker:
    """A state, its generator and its memory of late acceptance."""

    def __init__(
        self, reduced: Reduced, goal: Goal, settings: Settings, seed: int, number: int
    ) -> None:
        self.goal = goal
        self.settings = settings
        self.state = State.of(reduced)
        self.rng = np.array([seed or 1], dtype=np.int64)
        self.draw = np.random.default_rng(seed)
        self.history = np.zeros(settings.history, dtype=np.int64)
        self.clock = np.zeros(3, dtype=np.int64)
        several, limited = len(reduced.bin_cost) > 1, reduced.shear != ShearLimits()
        self.dials = _dials(settings, number, several, limited)
        self.all = self.enough = int(self.state.table[HEAD, MISSING])
        self.patience = PATIENCE + PATIENCE_PER_ITEM * int(reduced.demand.sum())
        self.limit = math.inf
        self.targets: Targets | None = None
        self.cost = math.inf
        self.least = 0
        self.vain = 0
        self.idle = 0
        self._forget(ANY)

    def run(self, budget: Budget) -> None:
        """Work until the goal's bound is met or the budget is spent, one spell at the least."""
        spell = 1
        while not self.goal.reached():
            self._aim(self.goal.limit)
            if self.goal.reached():
                return
            left = budget.steps_left()
            budget.use(self._climb(spell if left is None else max(1, min(spell, left))))
            if self.state.table[HEAD, MISSING] <= self.enough:
                self.goal.offer(self.state.snapshot())
                self.enough = max(0, int(self.state.table[HEAD, MISSING]) - 1)
            if budget.spent():
                return
            if self.clock[1] > self.idle:
                now = energy(self.state.table, self.state.kinds, self.dials)
                heat = self.draw.uniform(*self.settings.heat)
                self._forget(now + int(heat * 1024 * WHOLE))
            spell = self.settings.spell

    def _climb(self, steps: int) -> int:
        st = self.state
        return int(
            climb(
                st.table,
                st.log,
                self.rng,
                st.knots,
                st.worth,
                st.items,
                st.kinds,
                st.reduced.bin_cost,
                self.limit if self.targets is None else math.inf,
                st.places,
                self.history,
                self.clock,
                steps,
                self.dials,
                self.enough,
            )
        )

    def _aim(self, limit: float) -> None:
        """Go for less than the best layouts cost: any cheaper stock, or one choice of it."""
        if limit == self.limit:
            if self.targets is not None:
                self._watch(self.targets)
            return
        self.enough = 0  # the best lacks nothing: only complete layouts count
        if math.isinf(self.limit):
            self.targets = Targets.of(
                self.state.reduced, self.goal.best, self.goal.bound, limit, self.draw
            )
            if self.targets is not None:
                self.dials[[dials.RESIZE, dials.COST_PART]] = 0
        elif self.targets is not None:
            self.targets.succeeded()
        self.limit = limit
        if self.targets is None:
            self._get_under(limit)
        elif self.cost > limit:
            self._open(self.targets)

    def _watch(self, targets: Targets) -> None:
        """Give up the stock that is open when the items missing have not become less for long."""
        missing = int(self.state.table[HEAD, MISSING])
        if missing < self.least:
            self.least, self.vain = missing, int(self.clock[0])
        elif self.clock[0] > self.vain + self.patience:
            targets.failed()
            self.patience = int(self.patience * LONGER)
            self.goal.held(self.least / self.all, self.cost)
            self._open(targets)

    def _open(self, targets: Targets) -> None:
        """Take up another choice of stock."""
        counts = targets.next(self.limit, self.goal.hoped)
        if counts is None:
            self.goal.prove()
            return
        st = self.state
        st.kinds[2] = counts
        self.cost = float(counts @ st.reduced.bin_cost)
        close_surplus(st.table, st.log, self.rng, st.knots, st.worth, st.kinds[2])
        self.least, self.vain = ANY, int(self.clock[0])
        self._forget(ANY)

    def _get_under(self, limit: float) -> None:
        """Close sheets until their cost is within a new limit; the rest stays as good as it is."""
        st = self.state
        close_costly(st.table, st.log, self.rng, st.knots, st.worth, st.reduced.bin_cost, limit)
        self._forget(energy(st.table, st.kinds, self.dials))

    def _forget(self, level: int) -> None:
        """Start late acceptance anew from an energy."""
        self.history[:] = level
        self.clock[1] = 0
        self.clock[2] = ANY
        self.idle = int(self.draw.integers(*self.settings.idle))


def _dials(settings: Settings, number: int, several: bool, limited: bool) -> IntArray:
    """What the kernels read; moves between kinds of stock only where there are several.

    Within the limits of a shear no sheet changes its kind: its cuts may be too long there.
    """
    values = np.zeros(dials.DIALS, dtype=np.int64)
    values[dials.MEAN] = settings.means[number % len(settings.means)]
    values[dials.BLINK] = settings.blink
    values[dials.HASTY] = settings.hasty
    values[dials.SPARE_PART] = settings.spare_part
    if several:
        values[dials.CLOSE] = settings.close
        values[dials.RESIZE] = 0 if limited else settings.resize
        values[dials.COST_PART] = settings.cost_part
    return values
