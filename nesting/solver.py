"""The engine: a problem in, a plan out. Every phase has its own module; this is their order."""

import os

from nesting.bounds import lower_bound
from nesting.budget import Budget
from nesting.build import heuristics_for
from nesting.incumbent import Incumbent, reaches
from nesting.interrupt import interruptible, stopping
from nesting.layouts import Layouts
from nesting.model import Problem, ShearLimits
from nesting.plan import Plan
from nesting.progress import BoundProved, Finished, PhaseStarted, Progress, silent
from nesting.reduce import Reduction, demanding, reduce_problem
from nesting.unfold import missing, unfold

BOUND_SHARE, BUILD_SHARE, SEARCH_SHARE = 0.1, 0.3, 0.95


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
        reduction = reduce_problem(problem)
        incumbent = Incumbent(reduction.reduced, tell)
        incumbent.bound = lower_bound(reduction.reduced, budget.share(BOUND_SHARE).left())
        tell(BoundProved(incumbent.bound))
        _build(problem, incumbent, budget, tell)
        _improve(problem, incumbent, budget, seed, threads or os.cpu_count() or 1, tell)
        plan = _plan(reduction, incumbent)
        tell(Finished(plan.cost, plan.bound))
    return plan


def _build(problem: Problem, incumbent: Incumbent, budget: Budget, tell: Progress) -> None:
    tell(PhaseStarted("build"))
    share = budget.share(BUILD_SHARE)
    for heuristic in heuristics_for(problem):
        incumbent.offer(heuristic.build(incumbent.reduced))
        if incumbent.proved() or share.spent():
            return


def _improve(
    problem: Problem, incumbent: Incumbent, budget: Budget, seed: int, threads: int, tell: Progress
) -> None:
    if incumbent.proved() or budget.spent() or problem.shear != ShearLimits():
        return
    from nesting.improve.search import improve  # noqa: PLC0415 - numba loads only when it is needed

    tell(PhaseStarted("search"))
    share = budget.share(SEARCH_SHARE)
    start, bound = incumbent.best, incumbent.bound
    found = improve(incumbent.reduced, start, bound, share, seed, threads, incumbent.offer)
    incumbent.offer(found)


def _plan(reduction: Reduction, incumbent: Incumbent) -> Plan:
    layouts = incumbent.best or Layouts.empty()
    sheets = unfold(reduction, layouts)
    cost = sum(sheet.cost for sheet in sheets)
    bound = incumbent.bound
    if layouts.unplaced(reduction.reduced).any():
        bound = lower_bound(demanding(reduction.reduced, layouts.placed(reduction.reduced)), 0.0)
    return Plan(
        sheets=sheets,
        cost=cost,
        bound=cost if reaches(cost, bound) else bound,
        unplaced=missing(reduction, sheets),
    )
