"""The inner loop of the search: ruin, recreate, accept late or take back."""

from __future__ import annotations

from numba import njit

from nesting.kernels.recreate import recreate
from nesting.kernels.ruin import ruin
from nesting.kernels.table import HEAD, MISSING, SPARE, Floats, Ints, undo


@njit(cache=True, nogil=True)
def energy(s: Ints, spare_weight: float) -> float:
    """Give what the search lowers: worth of the missing items less a part of the leftovers'."""
    return float(s[HEAD, MISSING] - spare_weight * s[HEAD, SPARE])


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
    history: Floats,
    clock: Floats,
    steps: int,
    mean: int,
    blinks: int,
    spare_weight: float,
) -> int:
    """Make up to `steps` moves; give how many were made when nothing is missing any more.

    Late acceptance: a move stands when it is no worse than the state before it or than the one
    ``history.size`` moves ago. ``clock``: moves made, moves since the best energy, best energy.
    """
    now = energy(s, spare_weight)
    for step in range(steps):
        log[0] = 1
        ruin(s, log, rng, knots, worth, mean)
        recreate(s, log, rng, knots, worth, items, kinds, kinds_cost, limit, places, blinks)
        then = energy(s, spare_weight)
        at = int(clock[0]) % history.size
        if then <= now or then <= history[at]:
            now = then
        else:
            undo(s, log)
        history[at] = min(history[at], now) if now < history[at] else now
        clock[0] += 1
        clock[1] += 1
        if now < clock[2]:
            clock[1] = 0
            clock[2] = now
        if s[HEAD, MISSING] == 0:
            return step + 1
    return steps
