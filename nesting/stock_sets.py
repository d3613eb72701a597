"""Which choices of stock have a given cost: how often each kind is opened."""

from __future__ import annotations

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.reduce import Reduced

NOISE = 1e-9  # relative, of sums of cost


def stock_sets(reduced: Reduced, least: float, most: float, limit: int) -> IntArray | None:
    """Every choice of stock of a cost within limits that may hold all the items.

    A choice is left out when items that fit some of its kinds only have more area than those.

    Args:
        reduced: the problem; every kind costs something.
        least: cost, included.
        most: cost, included.
        limit: give up where more choices than this, or parts of one, must be looked at.

    Returns:
        int64[sets, s], copies of each kind, the cheapest first and of equals the fewest copies;
        None when there are too many.
    """
    noise = NOISE * max(1.0, abs(most))
    kinds = np.argsort(-reduced.bin_cost, kind="stable").tolist()
    counts = np.zeros((1, len(kinds)), dtype=np.int64)
    for kind in kinds:
        price, at_hand = float(reduced.bin_cost[kind]), int(reduced.bin_qty[kind])
        cost = counts @ reduced.bin_cost
        high = np.floor((most + noise - cost) / price)
        low = np.maximum(0, np.ceil((least - noise - cost) / price))
        low = low if kind == kinds[-1] else np.zeros_like(low)
        high = high if at_hand < 0 else np.minimum(high, at_hand)
        ways = np.maximum(0, high - low + 1).astype(np.int64)
        if int(ways.sum()) > limit:
            return None
        first = np.repeat(np.cumsum(ways) - ways, ways)
        rows = np.repeat(np.arange(len(counts)), ways)
        counts = counts[rows]
        counts[:, kind] = low.astype(np.int64)[rows] + np.arange(len(rows)) - first
    counts = counts[_roomy(reduced, counts)]
    cost = np.round(counts @ reduced.bin_cost, 6)
    return np.asarray(counts[np.lexsort((counts.sum(axis=1), cost))], dtype=np.int64)


def _roomy(reduced: Reduced, counts: IntArray) -> BoolArray:
    """Which choices have room, by area, for the items of every group of kinds."""
    width, length = reduced.item_w[:, None], reduced.item_l[:, None]
    upright = (width <= reduced.bin_w) & (length <= reduced.bin_l)
    lying = reduced.turn[:, None] & (length <= reduced.bin_w) & (width <= reduced.bin_l)
    fits = upright | lying
    area = reduced.item_w * reduced.item_l * reduced.demand
    rooms = reduced.bin_w * reduced.bin_l
    kept: BoolArray = np.ones(len(counts), dtype=np.bool_)
    for group in np.unique(np.vstack([fits, np.ones_like(fits[:1])]), axis=0):
        inside = (fits <= group).all(axis=1)
        kept &= counts @ (rooms * group) >= area[inside].sum()
    return kept
