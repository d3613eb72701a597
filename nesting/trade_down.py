"""Swap each sheet for the cheapest stock at hand that its items still fit as they lie."""

import numpy as np

from nesting.layouts import Layouts
from nesting.model import ShearLimits
from nesting.reduce import Reduced


def trade_down(reduced: Reduced, layouts: Layouts) -> Layouts:
    """The same layouts on cheaper stock where that is possible; never dearer.

    Not within the limits of a shear, which may cut a layout from one size and not from another.
    """
    limited = reduced.shear != ShearLimits()
    if limited or len(reduced.bin_w) == 1 or not len(layouts.stock):
        return layouts
    width, length = layouts.sizes(reduced)
    need_w = np.zeros(len(layouts.stock), dtype=np.int64)
    need_l = np.zeros(len(layouts.stock), dtype=np.int64)
    np.maximum.at(need_w, layouts.sheet, layouts.x + width)
    np.maximum.at(need_l, layouts.sheet, layouts.y + length)
    used = np.bincount(layouts.stock, minlength=len(reduced.bin_w))
    left = np.where(reduced.bin_qty < 0, np.iinfo(np.int64).max, reduced.bin_qty - used)
    stock = layouts.stock.copy()
    for sheet in np.argsort(need_w * need_l).tolist():
        takes = (reduced.bin_w >= need_w[sheet]) & (reduced.bin_l >= need_l[sheet]) & (left > 0)
        cost = np.where(takes, reduced.bin_cost, np.inf)
        kind = int(cost.argmin())
        if cost[kind] < reduced.bin_cost[stock[sheet]]:
            left[stock[sheet]] += reduced.bin_qty[stock[sheet]] >= 0
            left[kind] -= reduced.bin_qty[kind] >= 0
            stock[sheet] = kind
    return Layouts(stock, layouts.sheet, layouts.item, layouts.x, layouts.y, layouts.turned)
