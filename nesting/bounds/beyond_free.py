"""What free stock cannot take at all must be paid for, however much free stock there is."""

import numpy as np

from nesting.bounds.area import area_bound
from nesting.reduce import Reduced, demanding, with_stock


def beyond_free(reduced: Reduced) -> float:
    """Lower bound on the cost of the items that fit no stock that costs nothing.

    Returns:
        0 where all items fit some free stock; inf when the paid stock at hand can't hold the rest.
    """
    free = reduced.bin_cost <= 0
    if not free.any():
        return 0.0
    width, length = reduced.bin_w[free, None], reduced.bin_l[free, None]
    upright = (reduced.item_w <= width) & (reduced.item_l <= length)
    lying = reduced.turn & (reduced.item_l <= width) & (reduced.item_w <= length)
    beyond = np.where((upright | lying).any(axis=0), 0, reduced.demand)
    if not beyond.any():
        return 0.0
    paid = np.flatnonzero(~free).tolist()
    return area_bound(with_stock(demanding(reduced, beyond), paid))
