"""The list of leftovers and what they are worth."""

from __future__ import annotations

import numpy as np

from nesting.kernels.compiled import inlined, kernel
from nesting.kernels.table import (
    DIR,
    HEAD,
    LEAST_H,
    LEAST_W,
    LEFTOVERS,
    LH,
    LNODE,
    LW,
    NONE,
    POS,
    SLACK,
    SPARE,
    WORTH,
    Floats,
    H,
    Ints,
    W,
    put,
)

STEPS = 4096
WHOLE = 1 << 20


def value_table(largest: int, power: float) -> Floats:
    """Give the knots of the worth of an area: ``WHOLE * (area / largest) ** power``.

    The last place holds the factor from an area to its place between the knots.
    """
    knots = WHOLE * (np.arange(STEPS + 2) / STEPS) ** power
    return np.append(knots, STEPS / largest)


@inlined()
def value(knots: Floats, area: int) -> int:
    """Give the worth of a leftover of this area, between two knots in proportion."""
    x = area * knots[STEPS + 2]
    i = int(x)
    low = knots[i]
    return int(low + (knots[i + 1] - low) * (x - i))


@kernel()
def refresh(s: Ints, log: Ints, knots: Floats, n: int) -> None:
    """Bring the entry of structure `n` in the list of leftovers up to date."""
    slack = s[SLACK, n]
    if s[DIR, n] == 0:
        w, h = slack, s[H, n]
    else:
        w, h = s[W, n], slack
    worth = value(knots, w * h)
    if worth != s[WORTH, n]:
        s[HEAD, SPARE] += worth - s[WORTH, n]
        put(s, log, WORTH, n, worth)
    at = s[POS, n]
    if w >= s[HEAD, LEAST_W] and h >= s[HEAD, LEAST_H]:
        if at < 0:
            at = s[HEAD, LEFTOVERS]
            s[HEAD, LEFTOVERS] = at + 1
            put(s, log, POS, n, at)
            put(s, log, LNODE, at, n)
        put(s, log, LW, at, w)
        put(s, log, LH, at, h)
    elif at >= 0:
        drop(s, log, n)


@kernel()
def drop(s: Ints, log: Ints, n: int) -> None:
    """Take the entry of structure `n` out of the list."""
    at = s[POS, n]
    last = s[HEAD, LEFTOVERS] - 1
    if at != last:
        moved = s[LNODE, last]
        put(s, log, LNODE, at, moved)
        put(s, log, LW, at, s[LW, last])
        put(s, log, LH, at, s[LH, last])
        put(s, log, POS, moved, at)
    s[HEAD, LEFTOVERS] = last
    put(s, log, POS, n, NONE)


@inlined("void(i8[:, ::1], i8[::1], f8[::1], i8, i8)")
def set_slack(s: Ints, log: Ints, knots: Floats, n: int, slack: int) -> None:
    """Change what structure `n` leaves free along its direction."""
    put(s, log, SLACK, n, slack)
    refresh(s, log, knots, n)
