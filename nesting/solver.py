"""The engine: a problem in, a plan out. Every phase has its own module; this is their order."""

from nesting.bounds import lower_bound
from nesting.budget import Budget
from nesting.build import heuristics_for
from nesting.incumbent import Incumbent, reaches
from nesting.layouts import Layouts
from nesting.model import Problem
from nesting.plan import Plan
from nesting.progress import BoundProved, Finished, PhaseStarted, Progress, silent
from nesting.reduce import Reduced, Reduction, reduce_problem
from nesting.unfold import missing, unfold

BOUND_SHARE = 0.1
BUILD_SHARE = 0.5


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
        steps: work limit in place of the time limit; with `threads=1` the plan repeats exactly.

    Returns:
        The best plan found; Ctrl-C ends the search early and gives the best plan so far.

    Raises:
        InvalidBudgetError: negative limits.
    """
    tell = progress or silent
    budget = Budget(None if steps is not None else seconds, steps)
    reduction = reduce_problem(problem)
    incumbent = Incumbent(reduction.reduced, lambda layouts: True, tell)
    bound = _bound(reduction.reduced, budget, tell)
    try:
        _build(problem, incumbent, bound, budget, tell)
    except KeyboardInterrupt:
        tell(PhaseStarted("stopped early"))
    plan = _plan(reduction, incumbent.best or Layouts.empty(), bound)
    tell(Finished(plan.cost, plan.bound))
    return plan


def _bound(reduced: Reduced, budget: Budget, tell: Progress) -> float:
    tell(PhaseStarted("bound"))
    bound = lower_bound(reduced, budget.share(BOUND_SHARE).left())
    tell(BoundProved(bound))
    return bound


def _build(
    problem: Problem, incumbent: Incumbent, bound: float, budget: Budget, tell: Progress
) -> None:
    tell(PhaseStarted("build"))
    share = budget.share(BUILD_SHARE)
    for heuristic in heuristics_for(problem):
        incumbent.offer(heuristic.build(incumbent.reduced))
        if incumbent.proved(bound) or share.spent():
            return


def _plan(reduction: Reduction, layouts: Layouts, bound: float) -> Plan:
    sheets = unfold(reduction, layouts)
    cost = sum(sheet.cost for sheet in sheets)
    if layouts.unplaced(reduction.reduced).any():
        bound = 0.0
    return Plan(
        sheets=sheets,
        cost=cost,
        bound=cost if reaches(cost, bound) else bound,
        unplaced=missing(reduction, sheets),
    )
