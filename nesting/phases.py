"""The phases of a solve that work on layouts: bound, build, fill exactly, search."""

import math
from dataclasses import dataclass, replace

import numpy as np

from nesting.bounds import lower_bound
from nesting.budget import Budget
from nesting.build import heuristics_for
from nesting.coils import coil_bound, has_coil
from nesting.incumbent import Incumbent
from nesting.layouts import Layouts
from nesting.limited import Limited
from nesting.model import ShearLimits
from nesting.perfect import fill_exactly, wasteless
from nesting.progress import BoundProved, PhaseStarted, Progress
from nesting.reduce import Reduced, Reduction, demanding, takes_all, with_stock
from nesting.repeats import cut_repeats, repeated

BUILD_SHARE, EXACT_SHARE, REPEATS_SHARE, SEARCH_SHARE = 0.3, 0.6, 0.8, 0.95
BLANKS_OF_A_STEP = 100  # placed by a heuristic, as against a step limit
BUILD_SIZES_SHARE = 0.06  # the search soon passes what is built from several sizes
BUILD_OFTEN_SHARE = 0.1  # where blanks repeat, the linear programme is worth more than the start


def bound_of(reduction: Reduction, layouts: Layouts | None, seconds: float) -> float:
    """Proved lower bound on the cost of all blanks that fit some stock, or of those placed.

    Without a time limit only the quick bounds are worked out, so that a run repeats exactly.
    """
    reduced = reduction.reduced
    copies = reduced.demand if layouts is None else layouts.placed(reduced)
    if has_coil(reduction.problem):
        members = zip(reduction.members, copies.tolist(), strict=True)
        return coil_bound(reduction.problem, [(merged[0], count) for merged, count in members])
    return lower_bound(demanding(reduced, copies), seconds if math.isfinite(seconds) else 0.0)


@dataclass(frozen=True)
class Phases:
    """What the phases share.

    Attributes:
        reduction: the problem in integers.
        incumbent: the best so far.
        seed: of everything random.
        threads: workers of a search.
        tell: the listener.
        spare: the incumbent counts at prices at which free stock is spared: no bound is proved.
    """

    reduction: Reduction
    incumbent: Incumbent
    seed: int
    threads: int
    tell: Progress
    spare: bool = False

    def run(self, budget: Budget) -> None:
        """Build, then improve; the incumbent holds the outcome."""
        if not len(self.reduction.reduced.demand):
            return
        if self.reduction.problem.shear != ShearLimits():
            self._search_limited(budget.share(SEARCH_SHARE))
            return
        often = repeated(self.reduction.reduced)
        self._build(budget.share(self._build_share(often)))
        if not self._done(budget):
            self._fill_exactly(budget.share(EXACT_SHARE))
        if often and not self._done(budget):
            self._cut_repeats(budget.share(REPEATS_SHARE))
        if not self._done(budget):
            self._search(budget.share(SEARCH_SHARE))

    def _build_share(self, often: bool) -> float:
        if len(self.incumbent.reduced.bin_w) > 1:
            return BUILD_SIZES_SHARE
        return BUILD_OFTEN_SHARE if often else BUILD_SHARE

    def _done(self, budget: Budget) -> bool:
        return self.incumbent.proved() or budget.spent()

    def repack(self, reduced: Reduced, budget: Budget) -> Layouts:
        """Pack a part of the problem; whatever places all its items is good enough."""
        return _pack(reduced, budget, self.seed, self.threads)

    def vary(self, reduced: Reduced, budget: Budget, number: int) -> Layouts:
        """The same for a small part; each number gives other layouts."""
        return _pack(reduced, budget, self.seed + number, threads=1)

    def _build(self, budget: Budget) -> None:
        """Every heuristic on the whole stock, then on each size by itself."""
        self.tell(PhaseStarted("build"))
        reduced = self.incumbent.reduced
        kinds = range(len(reduced.bin_w))
        singles = [[kind] for kind in kinds if len(kinds) > 1 and takes_all(reduced, kind)]
        for offered in [list(kinds), *singles]:
            part = with_stock(reduced, offered)
            for heuristic in heuristics_for(self.reduction.problem):
                made = heuristic.build(part)
                budget.use(1 + int(reduced.demand.sum()) // BLANKS_OF_A_STEP)
                self.incumbent.offer(replace(made, stock=np.array(offered)[made.stock]))
                if self._done(budget):
                    return

    def _fill_exactly(self, budget: Budget) -> None:
        reduced = self.incumbent.reduced
        if not wasteless(reduced, self.incumbent.bound):
            return
        self.tell(PhaseStarted("fill exactly"))
        found = fill_exactly(reduced, budget, self.seed, self.threads)
        if found is not None:
            self.incumbent.offer(found)

    def _cut_repeats(self, budget: Budget) -> None:
        self.tell(PhaseStarted("repeated sheets"))
        best = self.incumbent.best or Layouts.empty()
        reduced, seed = self.incumbent.reduced, self.seed
        found, bound = cut_repeats(reduced, budget, best, seed, self._search_rest)
        self.incumbent.offer(found)
        problem = self.reduction.problem
        proves = problem.guillotine and not has_coil(problem) and not self.spare
        if proves and bound > self.incumbent.bound:
            self.incumbent.bound = bound
            self.tell(BoundProved(bound))

    def _search_rest(self, reduced: Reduced, budget: Budget) -> Layouts:
        from nesting.improve.search import improve  # noqa: PLC0415 - numba loads when needed

        start = min(
            (heuristic.build(reduced) for heuristic in heuristics_for(self.reduction.problem)),
            key=lambda layouts: layouts.rank(reduced),
        )
        return improve(reduced, start, 0.0, budget, self.seed, self.threads)

    def _search_limited(self, budget: Budget) -> None:
        """Strips, then the search; sheets whose cut order breaks a limit yet are packed anew."""
        from nesting.improve.search import improve  # noqa: PLC0415 - numba loads when needed

        self.tell(PhaseStarted("search within the limits of the shear"))
        limited = Limited(self.reduction)
        self.incumbent.offer(limited.pack())
        if self._done(budget):
            return
        best, bound = self.incumbent.best, self.incumbent.bound
        reduced = self.incumbent.reduced

        def offer(layouts: Layouts) -> None:
            if limited.beyond(layouts).any():
                layouts = limited.mended(layouts)
            self.incumbent.offer(layouts)

        offer(improve(reduced, best, bound, budget, self.seed, self.threads, offer))

    def _search(self, budget: Budget) -> None:
        from nesting.improve.search import improve  # noqa: PLC0415 - numba loads when needed

        self.tell(PhaseStarted("search"))
        best, bound = self.incumbent.best, self.incumbent.bound
        reduced, offer = self.incumbent.reduced, self.incumbent.offer
        offer(improve(reduced, best, bound, budget, self.seed, self.threads, offer))


def _pack(reduced: Reduced, budget: Budget, seed: int, threads: int) -> Layouts:
    from nesting.improve.search import improve  # noqa: PLC0415 - numba loads when needed

    return improve(reduced, None, math.inf, budget, seed, threads)
