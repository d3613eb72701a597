"""The inner loop of the search: ruin, recreate, accept late or take back."""

from __future__ import annotations

from nesting.kernels.compiled import kernel
from nesting.kernels.dials import RESIZE
from nesting.kernels.energy import energy
from nesting.kernels.recreate import recreate
from nesting.kernels.resize import resize, trade_down
from nesting.kernels.ruin import ruin
from nesting.kernels.table import HEAD, MISSING, Floats, Ints, begin, draw, undo


@kernel()
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
        begin(s, log)
        ruin(s, log, rng, knots, worth, dials)
        if draw(rng, 1024) < dials[RESIZE]:
            resize(s, log, rng, knots, kinds, kinds_cost, limit)
        at = clock[0] % history.size
        worst = max(now, history[at])
        hopeful = recreate(
            s, log, rng, knots, worth, items, kinds, kinds_cost, limit, places, dials, worst
        )
        if hopeful and dials[RESIZE]:
            trade_down(s, log, knots, kinds, kinds_cost)
        then = energy(s, kinds, dials)
        if hopeful and then <= worst:
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
