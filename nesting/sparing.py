"""Stock that costs nothing is still not wasted: in the search it has a price of little account."""

from dataclasses import replace

import numpy as np

from nesting.reduce import Reduced

PART = 1e-3
"""Of the least price that the same area of other stock has."""


def has_free(reduced: Reduced) -> bool:
    """True when some stock costs nothing."""
    return bool((reduced.bin_cost <= 0).any())


def sparing(reduced: Reduced) -> Reduced:
    """The same problem where free stock costs a thousandth of what other stock of its area does.

    A plan that is cheapest at these prices wastes no free stock, and pays for no sheet to save
    some of it but where the free stock is worth hundreds of sheets. Bounds on cost do not hold at
    these prices: work them out at the true ones.
    """
    if not has_free(reduced):
        return reduced
    area = reduced.bin_w * reduced.bin_l
    free = reduced.bin_cost <= 0
    paid = reduced.bin_cost[~free] / area[~free]
    least = float(paid.min()) if paid.size else 1.0
    return replace(reduced, bin_cost=np.where(free, PART * least * area, reduced.bin_cost))
