"""After the cost is settled: the rack first, coils drawn short, one large offcut, few cuts."""

from dataclasses import dataclass, field

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.fewer_cuts import Vary, fewer_cuts
from nesting.goals import Known, figures_of
from nesting.layouts import Layouts
from nesting.model import ShearLimits
from nesting.rack import use_rack
from nesting.reduce import Reduction
from nesting.squeeze import Repack, extent, fill, squeeze
from nesting.unfold import unfold

MOST_COILS = 12
CUTS_SHARE = 0.5
LARGEST_JOB = 400  # sheets; beyond it a plan is left as it is


@dataclass(frozen=True)
class Finisher:
    """Improves what costs nothing.

    Attributes:
        reduction: what the layouts belong to.
        repack: packs a part of the problem.
        vary: packs one sheet in many ways.
        budget: for all of it.
        known: sheets taken apart so far.
    """

    reduction: Reduction
    repack: Repack
    vary: Vary
    budget: Budget
    known: Known = field(default_factory=dict)

    def finish(self, layouts: Layouts) -> Layouts:
        """Layouts on the same or less stock."""
        if self.reduction.problem.shear == ShearLimits():
            layouts = use_rack(self.reduction.reduced, layouts, self._free_offcuts())
        if not 0 < len(layouts.stock) <= LARGEST_JOB:
            return layouts
        layouts = self._shorten_coils(layouts)
        layouts = self._keep_one_large(layouts)
        part = self.budget.share(CUTS_SHARE)
        return fewer_cuts(self.reduction, layouts, self.vary, part, self.known)

    def _kinds(self, kind: str) -> list[int]:
        bins = self.reduction.bins
        return [row for row, room in enumerate(bins) if room.stock.kind == kind]

    def _free_offcuts(self) -> IntArray:
        rows = [row for row in self._kinds("offcut") if self.reduction.bins[row].cost == 0]
        return np.array(rows, dtype=np.int64)

    def _shorten_coils(self, layouts: Layouts) -> Layouts:
        """Every piece of coil squeezed along its length, as far as time allows."""
        reduced = self.reduction.reduced
        for _ in range(MOST_COILS):
            coils = np.flatnonzero(np.isin(layouts.stock, self._kinds("coil")))
            if not len(coils) or self.budget.spent():
                break
            loosest = max(coils.tolist(), key=lambda sheet: self._waste(layouts, sheet))
            shorter = squeeze(reduced, layouts, loosest, True, self.repack, self.budget.share(0.4))
            if self._rank(shorter) >= self._rank(layouts):
                break
            layouts = shorter
        return layouts

    def _waste(self, layouts: Layouts, sheet: int) -> int:
        reduced = self.reduction.reduced
        used = extent(reduced, layouts, sheet, across=True)
        return int(used * reduced.bin_w[layouts.stock[sheet]] - fill(reduced, layouts)[sheet])

    def _keep_one_large(self, layouts: Layouts) -> Layouts:
        """The emptiest sheet squeezed each way; the way with the largest offcut is taken."""
        reduced = self.reduction.reduced
        bought = np.flatnonzero(~np.isin(layouts.stock, self._kinds("coil")))
        if not len(bought) or self.budget.spent():
            return layouts
        free = (reduced.bin_w * reduced.bin_l)[layouts.stock] - fill(reduced, layouts)
        emptiest = int(bought[free[bought].argmax()])
        ways = [layouts]
        for across in (True, False):
            part = self.budget.share(0.45)
            ways.append(squeeze(reduced, layouts, emptiest, across, self.repack, part))
        return min(ways, key=self._rank)

    def _rank(self, layouts: Layouts) -> tuple[float, ...]:
        sheets = unfold(self.reduction, layouts)
        return figures_of(self.reduction.problem, sheets, self.known).order()
