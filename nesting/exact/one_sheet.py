"""One sheet and small whole problems, exactly: a referee that shares nothing with the search.

`fits` asks CP-SAT whether items go on one sheet without overlap; guillotine cuts are not asked for,
so a no is a no for them too. `smallest_rooms` enumerates every guillotine cutting of every choice
of a few items. `least_cost` joins both ends: the choices that some stock takes, and CP-SAT for the
cheapest sheets that cover the demand; its result is the optimum.
"""

from collections.abc import Iterable, Sequence
from itertools import product

import numpy as np

from nesting.arrays import FloatArray, IntArray
from nesting.bounds.area import units
from nesting.reduce import Reduced

FINEST_COST = 1_000_000
"""The dearest stock counts as this many units where costs have no common unit."""

Sides = tuple[int, int, bool]
"""Width, length, and whether the item may be turned."""

Counts = tuple[int, ...]
"""Copies of each item type."""

Room = tuple[int, int]
"""Width and length."""


def fits(items: Sequence[Sides], width: int, length: int, seconds: float) -> bool | None:
    """Whether the items go on one sheet without overlap, turned where they may be.

    Returns:
        None when CP-SAT could not tell in the time given.
    """
    from ortools.sat.python import cp_model  # noqa: PLC0415

    model = cp_model.CpModel()
    along_x: list[cp_model.IntervalVar] = []
    along_y: list[cp_model.IntervalVar] = []
    for w, h, turn in items:
        turned = model.new_bool_var("turned")
        x, y = model.new_int_var(0, width, "x"), model.new_int_var(0, length, "y")
        if not turn:
            model.add(turned == 0)
        sides = w + (h - w) * turned, h + (w - h) * turned
        ends = model.new_int_var(0, width, "right"), model.new_int_var(0, length, "top")
        along_x.append(model.new_interval_var(x, sides[0], ends[0], "across"))
        along_y.append(model.new_interval_var(y, sides[1], ends[1], "along"))
    model.add_no_overlap_2d(along_x, along_y)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return False
    return True if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


def smallest_rooms(reduced: Reduced) -> dict[Counts, list[Room]]:
    """For each choice of items up to the demand: the smallest rooms it is cut from by guillotine.

    A room of several items is one cut and two smaller rooms side by side or end to end; rooms that
    no stock takes are left out, so a choice without rooms is missing. Exponential: for about ten
    copies in all.

    Returns:
        For each choice its rooms, none of them at least as large as another on both sides.
    """
    rooms: dict[Counts, list[Room]] = {}
    every = sorted(product(*(range(n + 1) for n in reduced.demand.tolist())), key=sum)
    for counts in every[1:]:
        found = _lone_rooms(reduced, counts) if sum(counts) == 1 else _joined(rooms, counts)
        smallest = _pareto(room for room in found if _kinds_for(reduced, room))
        if smallest:
            rooms[counts] = smallest
    return rooms


def least_cost(reduced: Reduced, seconds: float) -> float | None:
    """The least cost of stock from which all items can be cut by guillotine cuts: the optimum.

    Costs must be whole in some small unit (see `nesting.bounds.area.units`).

    Returns:
        inf when the stock at hand can't hold the items; None when time ran out.
    """
    from ortools.sat.python import cp_model  # noqa: PLC0415

    sheets = [
        (counts, kind)
        for counts, rooms in smallest_rooms(reduced).items()
        for kind in sorted({kind for room in rooms for kind in _kinds_for(reduced, room)})
    ]
    costs = whole_costs(reduced.bin_cost)
    model = cp_model.CpModel()
    most = int(reduced.demand.sum())
    times = [model.new_int_var(0, most, f"times{i}") for i in range(len(sheets))]
    for item, wanted in enumerate(reduced.demand.tolist()):
        model.add(sum(s[0][item] * t for s, t in zip(sheets, times, strict=True)) >= wanted)
    for kind in np.flatnonzero(reduced.bin_qty >= 0).tolist():
        of_kind = [t for s, t in zip(sheets, times, strict=True) if s[1] == kind]
        model.add(sum(of_kind) <= int(reduced.bin_qty[kind]))
    model.minimize(sum(int(costs[s[1]]) * t for s, t in zip(sheets, times, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return float("inf")
    if status != cp_model.OPTIMAL:
        return None
    used = [(s[1], solver.value(t)) for s, t in zip(sheets, times, strict=True)]
    return float(sum(float(reduced.bin_cost[kind]) * n for kind, n in used))


def _lone_rooms(reduced: Reduced, counts: Counts) -> list[Room]:
    item = counts.index(1)
    room = int(reduced.item_w[item]), int(reduced.item_l[item])
    return [room, room[::-1]] if reduced.turn[item] else [room]


def _joined(rooms: dict[Counts, list[Room]], counts: Counts) -> Iterable[Room]:
    """Rooms of the choice from those of every two parts of it."""
    for part in product(*(range(n + 1) for n in counts)):
        rest = tuple(n - p for n, p in zip(counts, part, strict=True))
        if part > rest or part not in rooms or rest not in rooms:
            continue
        for (w, h), (other_w, other_h) in product(rooms[part], rooms[rest]):
            yield w + other_w, max(h, other_h)
            yield max(w, other_w), h + other_h


def _pareto(rooms: Iterable[Room]) -> list[Room]:
    """Without rooms at least as large as another one on both sides."""
    kept: list[Room] = []
    for room in sorted(set(rooms)):
        if not kept or room[1] < kept[-1][1]:
            kept.append(room)
    return kept


def _kinds_for(reduced: Reduced, room: Room) -> list[int]:
    takes = (reduced.bin_w >= room[0]) & (reduced.bin_l >= room[1])
    return [int(kind) for kind in np.flatnonzero(takes)]


def whole_costs(costs: FloatArray) -> IntArray:
    """Costs as whole numbers: exactly so in their common unit, or else to one part in a million."""
    per_unit = units(costs) or FINEST_COST / float(costs.max())
    whole = np.rint(costs * per_unit).astype(np.int64)
    return whole // max(1, int(np.gcd.reduce(whole)))
