"""Choose sheets from a pool of layouts: the covering master problem, by CP-SAT.

Each pattern may be cut a whole number of times; together they must hold every item as often as it
is wanted; limited stock is kept to. Where the incumbent misses items, the least missing area comes
first and cost second. Monaci and Toth 2006, "A set-covering-based heuristic approach for
bin-packing problems", build the master the same way, from layouts found by heuristics.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.arrays import FloatArray, IntArray
from nesting.bounds.area import units
from nesting.exact.patterns import Pattern, Pool, layouts_of, patterns_of, undominated
from nesting.layouts import Layouts
from nesting.reduce import Reduced

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

FINEST_COST = 1_000_000
"""The dearest stock counts as this many units where costs have no common unit."""

NOISE = 1e-9
"""Relative; costs closer than this are equal."""


@dataclass(frozen=True)
class Limits:
    """What CP-SAT may use.

    Attributes:
        seconds: time limit; None for none.
        steps: limit in CP-SAT's deterministic time, for runs that repeat; None for none.
        workers: threads.
        seed: of CP-SAT.
    """

    seconds: float | None
    steps: float | None = None
    workers: int = 1
    seed: int = 0


@dataclass(frozen=True)
class Master:
    """The covering problem.

    Attributes:
        model: without objective.
        times: how often each candidate is cut.
        cost: in whole units.
        missing: area of the items that are not covered; 0 when all must be.
    """

    model: "cp_model.CpModel"
    times: list["cp_model.IntVar"]
    cost: "cp_model.LinearExprT"
    missing: "cp_model.LinearExprT"


def choose_sheets(
    reduced: Reduced,
    pool: Sequence[Pattern],
    seconds: float | None,
    incumbent: Layouts | None = None,
    *,
    steps: float | None = None,
    workers: int = 1,
    seed: int = 0,
) -> Layouts | None:
    """The best layouts that sheets of the pool and of the incumbent make up.

    Args:
        reduced: the problem in integers.
        pool: candidate sheet layouts; a pattern may be used any number of times.
        seconds: time limit; None for none.
        incumbent: a solution to start from; its sheets are candidates too.
        steps: limit in CP-SAT's deterministic time, for runs that repeat (with one worker).
        workers: threads of CP-SAT.
        seed: of CP-SAT.

    Returns:
        Layouts better than the incumbent (missing area, then cost); None when none was found.
    """
    kept = patterns_of(reduced, incumbent) if incumbent is not None else []
    candidates = undominated(reduced, Pool(reduced, [*kept, *pool]).patterns())
    if not candidates:
        return None
    complete = incumbent is not None and not incumbent.unplaced(reduced).any()
    master = _master(reduced, candidates, complete)
    _hint(master, _times_in(candidates, kept))
    limits = Limits(seconds, steps, workers, seed)
    times = _cheapest(master, limits) if complete else _fullest(master, limits)
    if times is None:
        return None
    chosen = [p for p, n in zip(candidates, times, strict=True) for _ in range(n)]
    chosen.sort(key=lambda p: -p.area(reduced))
    found = layouts_of(reduced, chosen)
    return found if incumbent is None or better(reduced, found, incumbent) else None


def better(reduced: Reduced, found: Layouts, incumbent: Layouts) -> bool:
    """Less missing, or as much at a lower cost."""
    missing, cost = found.rank(reduced)
    missing_before, cost_before = incumbent.rank(reduced)
    return missing < missing_before or (
        missing == missing_before and cost < cost_before * (1 - NOISE)
    )


def whole_costs(costs: FloatArray) -> IntArray:
    """Costs as whole numbers: exactly so in their common unit, or else to one part in a million."""
    per_unit = units(costs) or FINEST_COST / float(costs.max())
    whole = np.rint(costs * per_unit).astype(np.int64)
    return whole // max(1, int(np.gcd.reduce(whole)))


def _master(reduced: Reduced, candidates: Sequence[Pattern], complete: bool) -> Master:
    from ortools.sat.python import cp_model  # noqa: PLC0415

    model = cp_model.CpModel()
    counts = np.array([p.counts for p in candidates])
    most = _useful_copies(reduced, candidates, counts)
    times = [model.new_int_var(0, n, f"times{i}") for i, n in enumerate(most.tolist())]
    missing = []
    for item, wanted in enumerate(reduced.demand.tolist()):
        left_out = model.new_int_var(0, 0 if complete else wanted, f"missing{item}")
        held = sum(int(counts[p, item]) * times[p] for p in np.flatnonzero(counts[:, item]))
        model.add(held + left_out >= wanted)
        missing.append(left_out)
    for kind in np.flatnonzero(reduced.bin_qty >= 0).tolist():
        mine = [t for p, t in zip(candidates, times, strict=True) if p.kind == kind]
        model.add(cp_model.LinearExpr.sum(mine) <= int(reduced.bin_qty[kind]))
    costs = whole_costs(reduced.bin_cost)[[p.kind for p in candidates]]
    areas = reduced.item_w * reduced.item_l
    return Master(
        model,
        times,
        cp_model.LinearExpr.weighted_sum(times, costs.tolist()),
        cp_model.LinearExpr.weighted_sum(missing, areas.tolist()),
    )


def _useful_copies(reduced: Reduced, candidates: Sequence[Pattern], counts: IntArray) -> IntArray:
    """Copies of each candidate beyond which nothing more is covered, or that stock allows."""
    needed = -(-reduced.demand // np.maximum(counts, 1)) * (counts > 0)
    at_hand = reduced.bin_qty[[p.kind for p in candidates]]
    most = needed.max(axis=1)
    return np.asarray(np.where(at_hand < 0, most, np.minimum(most, at_hand)), dtype=np.int64)


def _times_in(candidates: Sequence[Pattern], sheets: Sequence[Pattern]) -> list[int]:
    """How often each candidate stands in for a sheet of a solution that it holds all of."""
    times = [0] * len(candidates)
    for sheet in sheets:
        for at, candidate in enumerate(candidates):
            if candidate.kind == sheet.kind and (candidate.counts >= sheet.counts).all():
                times[at] += 1
                break
    return times


def _hint(master: Master, times: Sequence[int]) -> None:
    for variable, value in zip(master.times, times, strict=True):
        master.model.add_hint(variable, value)


def _fullest(master: Master, limits: Limits) -> list[int] | None:
    """Least missing area first; then, with no more missing, least cost. Half the limit each."""
    half = Limits(
        None if limits.seconds is None else limits.seconds / 2,
        None if limits.steps is None else limits.steps / 2,
        limits.workers,
        limits.seed,
    )
    master.model.minimize(master.missing)
    solver = _solve(master, half)
    if solver is None:
        return None
    master.model.add(master.missing <= solver.value(master.missing))
    times = [solver.value(t) for t in master.times]
    master.model.clear_hints()  # type: ignore[no-untyped-call]
    _hint(master, times)
    return _cheapest(master, half) or times


def _cheapest(master: Master, limits: Limits) -> list[int] | None:
    master.model.minimize(master.cost)
    solver = _solve(master, limits)
    return None if solver is None else [solver.value(t) for t in master.times]


def _solve(master: Master, limits: Limits) -> "cp_model.CpSolver | None":
    """The solver holding the best solution found; None when there is none."""
    from ortools.sat.python import cp_model  # noqa: PLC0415

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = limits.workers
    solver.parameters.random_seed = limits.seed
    if limits.seconds is not None:
        solver.parameters.max_time_in_seconds = limits.seconds
    if limits.steps is not None:
        solver.parameters.max_deterministic_time = limits.steps
    status = solver.solve(master.model)
    return solver if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
