"""Lower bounds on the cost of stock: proved, so that a plan can say how close to the best it is."""

import math

from nesting.bounds.area import area_bound
from nesting.bounds.beyond_free import beyond_free
from nesting.bounds.dual_feasible import sheets_needed
from nesting.bounds.kinds import kinds_bound
from nesting.reduce import Reduced

__all__ = ["lower_bound"]


def lower_bound(reduced: Reduced, seconds: float) -> float:
    """The best proved lower bound on the cost of any plan that places every item.

    It holds for packings with and without guillotine cuts. With several stock kinds it is rounded
    up to the next total cost that stock at hand can have.

    Args:
        reduced: the problem in integers.
        seconds: time that may be spent beyond the quick bounds, which are always worked out
            (milliseconds); 0 for the quick ones only.

    Returns:
        The bound in cost, 0 without items; inf when it is proved that the stock at hand can't hold
        all the items. A cost summed up otherwise may lie below it by floating-point noise.
    """
    if reduced.demand.sum() == 0:
        return 0.0
    if reduced.bin_w.size == 1:
        return _one_kind(reduced, seconds)
    quick = max(area_bound(reduced), beyond_free(reduced))
    if seconds <= 0 or math.isinf(quick):
        return quick
    return max(quick, area_bound(reduced, kinds_bound(reduced, seconds)))


def _one_kind(reduced: Reduced, seconds: float) -> float:
    """Whole sheets; on one that is longer than wide, turning is worth a linear programme."""
    sheets = sheets_needed(reduced, 0)
    cost, at_hand = float(reduced.bin_cost[0]), int(reduced.bin_qty[0])
    if seconds > 0 and cost > 0 and reduced.turn.any() and reduced.bin_w[0] != reduced.bin_l[0]:
        sheets = max(sheets, math.ceil(kinds_bound(reduced, seconds) / cost - 1e-6))
    return math.inf if 0 <= at_hand < sheets else sheets * cost
