"""What the search lowers: the items missing and, in part, the sheets' cost less the leftovers."""

from __future__ import annotations

from nesting.kernels.compiled import kernel
from nesting.kernels.dials import COST_PART, SPARE_PART
from nesting.kernels.ruin import open_cost
from nesting.kernels.table import (
    HEAD,
    MCOUNT,
    MISSING,
    MISSING_TYPES,
    MLIST,
    SPARE,
    USED,
    Floats,
    Ints,
)

# Of the worth of the items missing, in 1024ths as the dials are.
MISSING_PART = 1024

# Row of `items`: what an item's own area is worth as a leftover.
LEAST_LOSS = 3

# Row of `kinds`: what an empty sheet is worth as a leftover.
EMPTY = 4

# Copies of a kind of stock that is never short: more than are ever opened.
WITHOUT_END = 1 << 20


@kernel()
def energy(s: Ints, kinds: Ints, dials: Ints) -> int:
    """Give the energy of a state."""
    missing = MISSING_PART * s[HEAD, MISSING]
    return int(missing + sheets_part(s, kinds, dials) - dials[SPARE_PART] * s[HEAD, SPARE])


@kernel()
def sheets_part(s: Ints, kinds: Ints, dials: Ints) -> int:
    """Give the part of the energy that the open sheets' cost makes."""
    cost = 0
    if dials[COST_PART]:
        for kind in range(kinds.shape[1]):
            cost += s[USED, kind] * kinds[3, kind]
    return int(dials[COST_PART] * cost)


@kernel()
def least_beside_spare(
    s: Ints, items: Ints, kinds: Ints, kinds_cost: Floats, limit: float, dials: Ints
) -> int:
    """Give the least energy, but for the present leftovers, that placing what is missing can give.

    The worth of an area grows faster than the area, so an item takes at least the worth of its own
    area from the leftovers, wherever it goes. That sheets may be traded down after is not counted.
    """
    least = sheets_part(s, kinds, dials) - most_gain(s, kinds, kinds_cost, limit, dials)
    for at in range(s[HEAD, MISSING_TYPES]):
        item = s[MLIST, at]
        least += dials[SPARE_PART] * items[LEAST_LOSS, item] * s[MCOUNT, item]
    return int(least)


@kernel()
def gain_when_opened(kinds: Ints, dials: Ints, kind: int) -> int:
    """Give by what an empty sheet of a kind lowers the energy; 0 where it raises it."""
    return int(max(0, dials[SPARE_PART] * kinds[EMPTY, kind] - dials[COST_PART] * kinds[3, kind]))


@kernel()
def most_gain(s: Ints, kinds: Ints, kinds_cost: Floats, limit: float, dials: Ints) -> int:
    """Give what sheets that may still be opened can lower the energy by, at the most."""
    left = limit - open_cost(s, kinds_cost)
    gain = 0
    for kind in range(kinds_cost.size):
        if kinds_cost[kind] <= left:
            copies = kinds[2, kind] - s[USED, kind] if kinds[2, kind] >= 0 else WITHOUT_END
            if copies * kinds_cost[kind] > left:
                copies = int(left / kinds_cost[kind])
            gain += copies * gain_when_opened(kinds, dials, kind)
    return int(gain)


@kernel()
def loss_when_missing(worth: Ints, items: Ints, dials: Ints, item: int) -> int:
    """Give what a missing copy costs more than one that takes least from the leftovers."""
    return int(MISSING_PART * worth[item] - dials[SPARE_PART] * items[LEAST_LOSS, item])
