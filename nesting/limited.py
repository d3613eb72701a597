"""Layouts within the limits of a shear: strips, every sheet checked by its own cut order."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.budget import Budget
from nesting.build.drafts import Draft, Spot
from nesting.build.strips import STYLES, fill_strips
from nesting.dissection import dissect, keeps_limits
from nesting.layouts import Layouts
from nesting.reduce import Reduction
from nesting.rng import generator
from nesting.unfold import unfold

PHASE = 3


@dataclass(frozen=True)
class Limited:
    """Packs within the limits of the problem's shear."""

    reduction: Reduction

    def pack(self, rng: np.random.Generator | None = None) -> Layouts:
        """Layouts sheet by sheet, the densest for its money first; what no sheet takes is missing.

        Args:
            rng: shuffles the strips when given.
        """
        reduced = self.reduction.reduced
        draft, left = Draft(reduced), np.where(self._alone(), reduced.demand, 0)
        while left.any():
            best = self._densest(draft, left, rng)
            if best is None:
                break
            draft.cut(*best, left)
        return draft.layouts()

    def search(self, budget: Budget, seed: int) -> Layouts:
        """The best of many shuffled packings, by missing area, then cost."""
        rng = generator(seed, PHASE)
        best = self.pack()
        while not budget.spent():
            budget.use(1)
            best = min(best, self.pack(rng), key=lambda found: found.rank(self.reduction.reduced))
        return best

    def allows(self, kind: int, spots: list[Spot]) -> bool:
        """True when the shear can cut this sheet."""
        item, x, y = np.array([spot[:3] for spot in spots], dtype=np.int64).T
        turned = np.array([spot.turned for spot in spots], dtype=np.bool_)
        stock = np.array([kind], dtype=np.int64)
        layouts = Layouts(stock, np.zeros_like(item), item, x, y, turned)
        problem = self.reduction.problem
        return all(
            keeps_limits(problem, sheet, dissect(problem, sheet))
            for sheet in unfold(self.reduction, layouts)
        )

    def _densest(
        self, draft: Draft, left: IntArray, rng: np.random.Generator | None
    ) -> tuple[int, list[Spot]] | None:
        """Stock kind and filling of most metal for its money; single items as a last try."""
        reduced = self.reduction.reduced
        areas = reduced.item_w * reduced.item_l
        kinds = draft.kinds_at_hand()
        filled = [
            (kind, spots)
            for kind in kinds
            for style in STYLES
            if (spots := fill_strips(reduced, left, kind, style, rng))
        ]
        worth = {kind: 1 / max(float(reduced.bin_cost[kind]), 1e-9) for kind in kinds}
        filled.sort(key=lambda f: -sum(int(areas[spot.item]) for spot in f[1]) * worth[f[0]])
        single = ((kind, spots) for kind in kinds for spots in self._singles(left, kind))
        return next((f for f in chain(filled, single) if self.allows(*f)), None)

    def _singles(self, left: IntArray, kind: int) -> Iterator[list[Spot]]:
        """Every item left alone in the corner of a sheet, each way it may lie."""
        reduced = self.reduction.reduced
        bin_w, bin_l = reduced.bin_w[kind], reduced.bin_l[kind]
        for item in np.flatnonzero(left).tolist():
            width, length = reduced.item_w[item], reduced.item_l[item]
            if width <= bin_w and length <= bin_l:
                yield [Spot(item, 0, 0, turned=False)]
            if reduced.turn[item] and length <= bin_w and width <= bin_l:
                yield [Spot(item, 0, 0, turned=True)]

    def _alone(self) -> BoolArray:
        """bool[m], items that the shear can cut from some stock at all."""
        reduced = self.reduction.reduced
        possible = np.zeros(len(reduced.demand), dtype=np.bool_)
        for kind in range(len(reduced.bin_w)):
            for spots in self._singles(np.where(possible, 0, reduced.demand), kind):
                possible[spots[0].item] |= self.allows(kind, spots)
        return possible
