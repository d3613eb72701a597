"""The search: several workers ruin and recreate towards a cost below the best so far."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from nesting.budget import Budget
from nesting.improve.goal import Goal
from nesting.improve.settings import Settings
from nesting.improve.worker import Worker
from nesting.layouts import Layouts
from nesting.reduce import Reduced
from nesting.rng import worker_seed

PHASE = 7
DEFAULT = Settings()


def improve(
    reduced: Reduced,
    start: Layouts | None,
    bound: float,
    budget: Budget,
    seed: int,
    threads: int,
    report: Callable[[Layouts], None] | None = None,
    settings: Settings = DEFAULT,
) -> Layouts:
    """Search for cheaper layouts until the cost meets the bound or the budget is spent.

    Args:
        reduced: the problem.
        start: layouts to begin with; built here when None.
        bound: a proved lower bound on the cost.
        budget: with a step limit every worker makes its share of steps alone, and the outcome
            depends on the seed and the number of threads only.
        seed: of all that is drawn.
        threads: number of workers.
        report: called with every better solution, by one thread at a time.
        settings: what the workers do.

    Returns:
        The best found by `Layouts.rank`, never worse than `start`.
    """
    goal = Goal(reduced, start, bound, report)
    if goal.reached():
        return goal.best
    alone = budget.steps_left() is not None
    goals = [goal.twin() if alone else goal for _ in range(threads)]
    workers = [
        Worker(reduced, goals[i], settings, worker_seed(seed, PHASE, i), i) for i in range(threads)
    ]
    shares = [budget.share(1 / threads) if alone else budget for _ in range(threads)]
    if threads == 1:
        workers[0].run(shares[0])
    else:
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(Worker.run, workers, shares))
    for other in goals:
        goal.offer(other.best)
    return goal.best
