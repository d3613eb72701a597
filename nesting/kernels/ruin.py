"""Take parts of the sheets away."""

from __future__ import annotations

from nesting.kernels.compiled import kernel
from nesting.kernels.dials import CLOSE, MEAN
from nesting.kernels.guillotine import remove
from nesting.kernels.table import (
    FREE,
    HEAD,
    KIND,
    PARENT,
    ROWS,
    SHEETS,
    SKIND,
    SROOT,
    STRUCTURE,
    USED,
    Floats,
    Ints,
    begin,
    draw,
    log_is_long,
)


@kernel()
def open_cost(s: Ints, kinds_cost: Floats) -> float:
    """Give the cost of the sheets open, summed by kind so that no rounding drifts."""
    cost = 0.0
    for kind in range(kinds_cost.size):
        cost += s[USED, kind] * kinds_cost[kind]
    return cost


@kernel()
def ruin(s: Ints, log: Ints, rng: Ints, knots: Floats, worth: Ints, dials: Ints) -> None:
    """Remove 1 to ``2 mean - 1`` nodes with all under them, at times a whole sheet before."""
    if draw(rng, 1024) < dials[CLOSE] and s[HEAD, SHEETS] > 0:
        remove(s, log, knots, worth, s[SROOT, draw(rng, s[HEAD, SHEETS])])
    count = 1 + draw(rng, 2 * dials[MEAN] - 1)
    while count > 0 and s[HEAD, SHEETS] > 0 and not log_is_long(log):
        n = draw(rng, s[HEAD, ROWS])
        if s[KIND, n] == FREE or (s[KIND, n] == STRUCTURE and s[PARENT, n] < 0):
            continue
        remove(s, log, knots, worth, n)
        count -= 1


@kernel()
def close_costly(
    s: Ints, log: Ints, rng: Ints, knots: Floats, worth: Ints, kinds_cost: Floats, limit: float
) -> None:
    """Close sheets, drawn at random, until those open cost no more than `limit`."""
    while s[HEAD, SHEETS] > 0 and open_cost(s, kinds_cost) > limit:
        remove(s, log, knots, worth, s[SROOT, draw(rng, s[HEAD, SHEETS])])
        begin(s, log)


@kernel()
def close_surplus(s: Ints, log: Ints, rng: Ints, knots: Floats, worth: Ints, at_hand: Ints) -> None:
    """Close sheets of the kinds of which more are open than at hand, drawn at random."""
    for kind in range(at_hand.size):
        while s[USED, kind] > at_hand[kind]:
            sheet = draw(rng, s[HEAD, SHEETS])
            if s[SKIND, sheet] == kind:
                remove(s, log, knots, worth, s[SROOT, sheet])
                begin(s, log)
