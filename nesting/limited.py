"""Layouts within the limits of a shear: strips, every sheet checked by its own cut order."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.build.drafts import Draft, Spot
from nesting.build.strips import STYLES, fill_strips
from nesting.dissection import dissect, keeps_limits
from nesting.layouts import Layouts
from nesting.reduce import Reduced, Reduction
from nesting.repeats import stock_left
from nesting.unfold import unfold


@dataclass(frozen=True)
class Limited:
    """Packs within the limits of the problem's shear."""

    reduction: Reduction

    def pack(self, left: IntArray | None = None, used: Layouts | None = None) -> Layouts:
        """Layouts sheet by sheet, the densest for its money first; what no sheet takes is missing.

        Args:
            left: int64[m], copies wanted; None: all.
            used: sheets that have been taken from the stock already.
        """
        reduced = self.reduction.reduced
        left = (reduced.demand if left is None else left).copy()
        draft = Draft(reduced if used is None else stock_left(reduced, used))
        while left.any():
            best = self._densest(draft, left)
            if best is None:
                break
            draft.cut(*best, left)
        return draft.layouts()

    def beyond(self, layouts: Layouts) -> BoolArray:
        """bool[sheets], those that the shear can't cut."""
        sheets = [layouts.only([sheet]) for sheet in range(len(layouts.stock))]
        return np.array([not self._allows(sheet) for sheet in sheets], dtype=np.bool_)

    def mended(self, layouts: Layouts) -> Layouts:
        """The sheets that the shear can cut, and what lay on the others packed anew."""
        kept = layouts.only(np.flatnonzero(~self.beyond(layouts)))
        reduced = self.reduction.reduced
        removed = layouts.placed(reduced) - kept.placed(reduced)
        return kept.plus(self.pack(removed, kept))

    def _allows(self, layouts: Layouts) -> bool:
        problem = self.reduction.problem
        return all(
            keeps_limits(problem, sheet, dissect(problem, sheet))
            for sheet in unfold(self.reduction, layouts)
        )

    def _spots_allowed(self, kind: int, spots: list[Spot]) -> bool:
        """True when the shear can cut this sheet."""
        item, x, y = np.array([spot[:3] for spot in spots], dtype=np.int64).T
        turned = np.array([spot.turned for spot in spots], dtype=np.bool_)
        stock = np.array([kind], dtype=np.int64)
        return self._allows(Layouts(stock, np.zeros_like(item), item, x, y, turned))

    def _densest(self, draft: Draft, left: IntArray) -> tuple[int, list[Spot]] | None:
        """Stock kind and filling of most metal for its money; single items as a last try."""
        reduced = self.reduction.reduced
        areas = reduced.item_w * reduced.item_l
        kinds = draft.kinds_at_hand()
        filled = [
            (kind, spots)
            for kind in kinds
            for style in STYLES
            if (spots := fill_strips(reduced, left, kind, style))
        ]
        worth = {kind: 1 / max(float(reduced.bin_cost[kind]), 1e-9) for kind in kinds}
        filled.sort(key=lambda f: -sum(int(areas[spot.item]) for spot in f[1]) * worth[f[0]])
        single = ((kind, spots) for kind in kinds for spots in _singles(reduced, left, kind))
        return next((f for f in chain(filled, single) if self._spots_allowed(*f)), None)


def _singles(reduced: Reduced, left: IntArray, kind: int) -> Iterator[list[Spot]]:
    """Every item left alone in the corner of a sheet, each way it may lie."""
    bin_w, bin_l = reduced.bin_w[kind], reduced.bin_l[kind]
    for item in np.flatnonzero(left).tolist():
        width, length = reduced.item_w[item], reduced.item_l[item]
        if width <= bin_w and length <= bin_l:
            yield [Spot(item, 0, 0, turned=False)]
        if reduced.turn[item] and length <= bin_w and width <= bin_l:
            yield [Spot(item, 0, 0, turned=True)]
