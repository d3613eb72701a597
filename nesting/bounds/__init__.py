"""Lower bounds on the cost of stock: proved, so that a plan can say how close to the best it is."""

import math

from nesting.bounds.area import area_bound
from nesting.bounds.dual_feasible import sheets_needed
from nesting.reduce import Reduced

__all__ = ["lower_bound"]


def lower_bound(reduced: Reduced, seconds: float) -> float:  # noqa: ARG001
    """The best proved lower bound on the cost of any plan that places every item.

    It holds for packings with and without guillotine cuts. With several stock kinds it is rounded
    up to the next total cost that stock at hand can have.

    Args:
        reduced: the problem in integers.
        seconds: time that may be spent; the quick bounds (milliseconds) are worked out always.

    Returns:
        The bound in cost, 0 without items; inf when it is proved that the stock at hand can't hold
        all the items. A cost summed up otherwise may lie below it by floating-point noise.
    """
    if reduced.demand.sum() == 0:
        return 0.0
    if reduced.bin_w.size == 1:
        sheets = sheets_needed(reduced, 0)
        at_hand = int(reduced.bin_qty[0])
        return math.inf if 0 <= at_hand < sheets else sheets * float(reduced.bin_cost[0])
    return area_bound(reduced)
