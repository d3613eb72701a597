"""One worker of a search: its own trees, driven in short spells towards the shared goal."""

from __future__ import annotations

import math

import numpy as np

from nesting.budget import Budget
from nesting.improve.goal import Goal
from nesting.improve.settings import Settings
from nesting.improve.state import State
from nesting.kernels.climb import climb, energy
from nesting.kernels.leftovers import WHOLE
from nesting.kernels.ruin import close_costly
from nesting.kernels.table import HEAD, MISSING
from nesting.reduce import Reduced


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
        self.history = np.full(settings.history, math.inf)
        self.clock = np.array([0.0, 0.0, math.inf])
        self.mean = settings.means[number % len(settings.means)]
        self.idle = 0
        self.limit = math.inf
        self._forget(math.inf)

    def run(self, budget: Budget) -> None:
        """Work until the goal's bound is met or the budget is spent, one spell at the least."""
        spell = 1
        while not self.goal.reached():
            self._get_under(self.goal.limit)
            left = budget.steps_left()
            budget.use(self._climb(spell if left is None else max(1, min(spell, left))))
            if self.state.table[HEAD, MISSING] == 0:
                self.goal.offer(self.state.snapshot())
            if budget.spent():
                return
            if self.clock[1] > self.idle:
                now = energy(self.state.table, self.settings.spare_weight)
                self._forget(now + self.draw.uniform(*self.settings.heat) * WHOLE)
            spell = self.settings.spell

    def _climb(self, steps: int) -> int:
        st, settings = self.state, self.settings
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
                self.limit,
                st.places,
                self.history,
                self.clock,
                steps,
                self.mean,
                settings.blinks,
                settings.spare_weight,
            )
        )

    def _get_under(self, limit: float) -> None:
        """Close sheets until their cost is within a new limit."""
        if limit == self.limit:
            return
        self.limit = limit
        st = self.state
        close_costly(st.table, st.log, self.rng, st.knots, st.worth, st.reduced.bin_cost, limit)
        self._forget(math.inf)

    def _forget(self, level: float) -> None:
        """Start late acceptance anew from an energy."""
        self.history[:] = level
        self.clock[1] = 0
        self.clock[2] = math.inf
        self.idle = int(self.draw.integers(*self.settings.idle))
