"""The inner loop of the search: ruin, recreate, accept late or take back."""

from __future__ import annotations

from numba import njit

from nesting.kernels.dials import COST_PART, RESIZE, SPARE_PART
from nesting.kernels.recreate import recreate
from nesting.kernels.resize import resize, trade_down
from nesting.kernels.ruin import ruin
from nesting.kernels.table import HEAD, MISSING, SPARE, USED, Floats, Ints, draw, undo


@njit(cache=True, nogil=True)
def energy(s: Ints, kinds: Ints, dials: Ints) -> int:
    """Give what the search lowers: missing items and, in part, cost less leftovers' worth."""
    cost = 0
    if dials[COST_PART]:
        for kind in range(kinds.shape[1]):
            cost += s[USED, kind] * kinds[3, kind]
    return int(
        1024 * s[HEAD, MISSING] + dials[COST_PART] * cost - dials[SPARE_PART] * s[HEAD, SPARE]
    )


@njit(cache=True, nogil=True)
def climb(
    s: Ints,
    log: Ints,
    rng: Ints,
    knots: Floats,
    worth: Ints,
    items: Ints,
    kinds: Ints,
    kinds_cost: Floats,
    limit: float,
    places: Ints,
    history: Ints,
    clock: Ints,
    steps: int,
    dials: Ints,
    enough: int,
) -> int:
    """Make up to `steps` moves; end early when the items missing are worth `enough` or less.

    Late acceptance: a move stands when it is no worse than the state before it or than the one
    ``history.size`` moves ago. ``clock``: moves made, moves since the best energy, best energy.
    Gives the number of moves made.
    """
    now = energy(s, kinds, dials)
    for step in range(steps):
        log[0] = 1
        ruin(s, log, rng, knots, worth, dials)
        if draw(rng, 1024) < dials[RESIZE]:
            resize(s, log, rng, knots, kinds, kinds_cost, limit)
        recreate(s, log, rng, knots, worth, items, kinds, kinds_cost, limit, places, dials)
        if dials[RESIZE]:
            trade_down(s, log, knots, kinds, kinds_cost)
        then = energy(s, kinds, dials)
        at = clock[0] % history.size
        if then <= now or then <= history[at]:
            now = then
        else:
            undo(s, log)
        history[at] = now
        clock[0] += 1
        clock[1] += 1
        if now < clock[2]:
            clock[1] = 0
            clock[2] = now
        if s[HEAD, MISSING] <= enough:
            return step + 1
    return steps
