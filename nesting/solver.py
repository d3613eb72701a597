"""The engine: a problem in, a plan out. Every phase has its own module; this is their order."""

import os

from nesting.assemble import assemble
from nesting.budget import Budget
from nesting.coils import offered_bins
from nesting.finish import Finisher
from nesting.incumbent import Incumbent
from nesting.interrupt import interruptible, stopping
from nesting.layouts import Layouts
from nesting.model import Problem
from nesting.phases import Phases, bound_of
from nesting.plan import Plan
from nesting.progress import BoundProved, Finished, Progress, silent
from nesting.reduce import reduce_problem
from nesting.sparing import has_free, sparing

BOUND_SHARE, FINISH_SHARE = 0.1, 0.6


def solve(
    problem: Problem,
    seconds: float = 2.0,
    seed: int = 0,
    threads: int | None = None,
    progress: Progress | None = None,
    *,
    steps: int | None = None,
) -> Plan:
    """Cut the blanks from stock at the least cost that can be found in the time given.

    Args:
        problem: what to cut, from what, by which rules.
        seconds: time limit; not kept when `steps` is given.
        seed: of everything random.
        threads: None: as many as the machine offers.
        progress: called with each `nesting.progress.Event`.
        steps: work limit in place of the time limit; the plan then repeats exactly for the same
            seed and number of threads.

    Returns:
        The best plan found; Ctrl-C ends the search early and gives the best plan so far.

    Raises:
        InvalidBudgetError: negative limits.
    """
    with interruptible() as stop:
        tell = stopping(progress or silent, stop)
        budget = Budget(None if steps is not None else seconds, steps, stop.is_set)
        reduction = reduce_problem(problem, offered_bins(problem))
        incumbent = Incumbent(sparing(reduction.reduced), tell)
        incumbent.bound = bound_of(reduction, None, budget.share(BOUND_SHARE).left())
        tell(BoundProved(incumbent.bound))
        proved = incumbent.bound
        phases = Phases(reduction, incumbent, seed, threads or os.cpu_count() or 1, tell)
        phases.run(budget)
        best = incumbent.best or Layouts.empty()
        finisher = Finisher(reduction, phases.repack, phases.vary, budget.share(FINISH_SHARE))
        layouts = finisher.finish(best)
        # at prices that spare free stock the search proves nothing about the true cost
        bound = proved if has_free(reduction.reduced) else incumbent.bound
        if layouts.unplaced(reduction.reduced).any():
            bound = bound_of(reduction, layouts, 0.0)
        plan = assemble(reduction, layouts, bound, finisher.known)
        tell(Finished(plan.cost, plan.bound))
    return plan
