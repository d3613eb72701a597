"""The area bound over several stock kinds: the cheapest stock whose area covers the items.

With one kind the area bound is a division. With several kinds, whole sheets and limited copies it
is a covering knapsack, solved exactly here whenever the costs are whole numbers of some small unit
(cents, or areas in grid units). The same table tells which total costs can occur at all, so that
any other bound is rounded up to the next of them.
"""

import math
from fractions import Fraction

import numpy as np

from nesting.arrays import FloatArray, IntArray
from nesting.reduce import Reduced

LARGEST_TABLE = 2_000_000
"""Cells of the table over total cost; beyond that the fractional bound has to do."""

UNITS = (1, 100, 10_000)
"""Costs are read as whole numbers of 1, 1/100 or 1/10000, the first that suits all of them."""

ROUNDING = 1e-7
"""A bound this little (relatively) above a reachable cost counts as that cost."""


def area_bound(reduced: Reduced, at_least: float = 0.0) -> float:
    """Least cost, not below `at_least`, of stock at hand with the area of all items together.

    Args:
        reduced: the problem in integers.
        at_least: a lower bound on cost proved otherwise.

    Returns:
        The bound in cost; inf when no choice of the stock at hand has both the area and the cost,
        so that the items can't all be placed.
    """
    free = reduced.bin_cost <= 0
    areas = reduced.bin_w * reduced.bin_l
    need = int((reduced.item_w * reduced.item_l * reduced.demand).sum())
    copies = _useful_copies(areas, reduced.bin_qty, need)
    need = max(0, need - int((areas * copies)[free].sum()))
    areas, copies, costs = areas[~free], copies[~free], reduced.bin_cost[~free]
    floor = max(fractional_cover(areas, costs, copies, need), at_least)
    if math.isinf(floor) or floor <= 0:
        return floor
    per_unit = units(costs)
    if per_unit is None:
        return floor
    whole = np.rint(costs * per_unit).astype(np.int64)
    if not whole.all():  # a cost that is too small to be told from nothing
        return floor
    shared = int(np.gcd.reduce(whole))
    whole //= shared
    least = math.ceil(floor * per_unit / shared * (1 - ROUNDING))
    more = _useful_copies(whole, reduced.bin_qty[~free], least)
    copies = np.maximum(copies, more)
    top = min(int((whole * copies).sum()), least + 2 * int(whole.max()))
    if top > LARGEST_TABLE:
        return floor
    good = np.flatnonzero(area_by_cost(areas, whole, copies, top)[least:] >= need)
    return float(Fraction((least + int(good[0])) * shared, per_unit)) if good.size else math.inf


def fractional_cover(areas: IntArray, costs: FloatArray, copies: IntArray, need: int) -> float:
    """Cost of covering `need` when sheets may be bought in part; inf when all are too few."""
    total, left = 0.0, need
    for kind in np.argsort(costs / areas, kind="stable").tolist():
        if left <= 0:
            break
        used = min(left, int(areas[kind] * copies[kind]))
        total += used / int(areas[kind]) * float(costs[kind])
        left -= used
    return total if left <= 0 else math.inf


def area_by_cost(areas: IntArray, costs: IntArray, copies: IntArray, top: int) -> IntArray:
    """The most area that stock of exactly each total cost 0 .. `top` has; -1 where none has it.

    Bounded knapsack over whole, positive costs; copies are taken in lots of 1, 2, 4, ... .

    Returns:
        int64[top + 1].
    """
    best = np.full(top + 1, -1, dtype=np.int64)
    best[0] = 0
    for area, cost, many in zip(areas.tolist(), costs.tolist(), copies.tolist(), strict=True):
        left, lot = min(many, top // cost), 1
        while left > 0:
            taken = min(lot, left)
            before = best[: top + 1 - taken * cost]
            with_lot = np.where(before >= 0, before + taken * area, -1)
            best[taken * cost :] = np.maximum(best[taken * cost :], with_lot)
            left -= taken
            lot *= 2
    return best


def units(costs: FloatArray) -> int | None:
    """How many to 1 of the first unit in which all costs are whole; None when there is none."""
    for per_unit in UNITS:
        scaled = costs * per_unit
        if np.allclose(scaled, np.rint(scaled), rtol=0, atol=1e-6):
            return per_unit
    return None


def _useful_copies(sizes: IntArray, at_hand: IntArray, need: int) -> IntArray:
    """Copies at hand, or as many as can be of use for `need` where unlimited."""
    enough = -(-need // sizes)
    return np.where(at_hand < 0, enough, at_hand)
