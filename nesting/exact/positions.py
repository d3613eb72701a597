"""Where cuts may be: the normal positions, sums of item sizes, or a part of them.

Items can be pushed to the left and down, so that only sums of item sizes matter as places of a cut
(Herz 1972; Christofides and Whitlock 1977: normal patterns). With all of them the knapsack on one
sheet is exact; a part of them keeps it quick and each choice gives other sheets.
"""

import numpy as np

from nesting.arrays import IntArray


def normal_positions(sizes: IntArray, copies: IntArray, capacity: int) -> IntArray:
    """All sums of sizes up to the capacity, each size at most as often as there are copies.

    Returns:
        int64[n], ascending from 0.
    """
    reach = 1
    mask = (1 << (capacity + 1)) - 1
    for size, many in zip(sizes.tolist(), copies.tolist(), strict=True):
        left, lot = min(many, capacity // size), 1
        while left > 0:
            taken = min(lot, left)
            reach |= (reach << (taken * size)) & mask
            left -= taken
            lot *= 2
    packed = np.frombuffer(reach.to_bytes(capacity // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(packed, bitorder="little")).astype(np.int64)


def some_positions(
    every: IntArray,
    sizes: IntArray,
    capacities: IntArray,
    most: int,
    rng: np.random.Generator,
) -> IntArray:
    """At most about `most` of the positions, those that one item makes first.

    Args:
        every: int64[n], ascending normal positions, with 0.
        sizes: item sizes along this axis.
        capacities: sides of the stock kinds along this axis.
        most: how many to keep.
        rng: draws the others.

    Returns:
        int64[k], ascending: 0, the largest position in each stock, the item sizes and their
        complements as far as there is room for them, and others at random.
    """
    if every.size <= most:
        return every
    tops = every[np.searchsorted(every, capacities, side="right") - 1]
    singles = np.unique(sizes[np.isin(sizes, every)])
    rests = (tops[:, None] - singles[None, :]).ravel()
    rests = every[np.searchsorted(every, rests[rests >= 0], side="right") - 1]
    chosen = np.unique(np.concatenate([every[:1], tops]))
    for more in (singles, np.unique(rests), every):
        new = np.setdiff1d(more, chosen)
        room = max(0, most - chosen.size)
        taken = new if new.size <= room else rng.choice(new, room, replace=False)
        chosen = np.union1d(chosen, taken)
    return chosen
