"""Change the kind of an open sheet under what is cut from it, for a smaller or a larger one."""

from __future__ import annotations

from nesting.kernels.compiled import kernel
from nesting.kernels.guillotine import common_slack, dissolve, lower_root, shrink_across
from nesting.kernels.leftovers import set_slack
from nesting.kernels.ruin import open_cost
from nesting.kernels.table import (
    DIR,
    FIRST,
    HEAD,
    NEXT,
    NONE,
    SHEETS,
    SKIND,
    SLACK,
    SROOT,
    USED,
    Floats,
    H,
    Ints,
    W,
    draw,
    is_at_hand,
    put,
)


@kernel()
def resize(
    s: Ints, log: Ints, rng: Ints, knots: Floats, kinds: Ints, kinds_cost: Floats, limit: float
) -> None:
    """Give a sheet drawn at random another kind that holds what is on it, within the limit."""
    if s[HEAD, SHEETS] == 0:
        return
    at = draw(rng, s[HEAD, SHEETS])
    kind = other_kind(s, rng, at, kinds, kinds_cost, limit)
    if kind >= 0:
        change_kind(s, log, knots, at, kind, kinds[0, kind], kinds[1, kind])


@kernel()
def trade_down(s: Ints, log: Ints, knots: Floats, kinds: Ints, kinds_cost: Floats) -> None:
    """Give every open sheet the cheapest kind at hand that holds what is on it."""
    for at in range(s[HEAD, SHEETS]):
        kind = cheapest_kind(s, at, kinds, kinds_cost)
        if kind != s[SKIND, at]:
            change_kind(s, log, knots, at, kind, kinds[0, kind], kinds[1, kind])


@kernel()
def cheapest_kind(s: Ints, at: int, kinds: Ints, kinds_cost: Floats) -> int:
    """Give the cheapest kind that could take the place of an open sheet's; its own where none."""
    w, h = needed(s, s[SROOT, at])
    best = s[SKIND, at]
    for kind in range(kinds_cost.size):
        cheaper = kinds_cost[kind] < kinds_cost[best] and is_at_hand(s, kinds, kind)
        if cheaper and w <= kinds[0, kind] and h <= kinds[1, kind]:
            best = kind
    return int(best)


@kernel()
def needed(s: Ints, root: int) -> tuple[int, int]:
    """Give the width and length that a sheet must have for what is cut from it."""
    d = s[DIR, root]
    along = s[W + d, root] - s[SLACK, root]
    across = s[H - d, root] - common_slack(s, root)
    return (along, across) if d == 0 else (across, along)


@kernel()
def other_kind(s: Ints, rng: Ints, at: int, kinds: Ints, kinds_cost: Floats, limit: float) -> int:
    """Give a kind drawn among those that could take the place of an open sheet's, or NONE."""
    old = s[SKIND, at]
    w, h = needed(s, s[SROOT, at])
    left = limit - open_cost(s, kinds_cost) + kinds_cost[old]
    chosen, seen = NONE, 0
    for kind in range(kinds_cost.size):
        if kind == old or not is_at_hand(s, kinds, kind) or kinds_cost[kind] > left:
            continue
        if w <= kinds[0, kind] and h <= kinds[1, kind]:
            seen += 1
            if draw(rng, seen) == 0:
                chosen = kind
    return int(chosen)


@kernel()
def change_kind(s: Ints, log: Ints, knots: Floats, at: int, kind: int, w: int, h: int) -> None:
    """Give an open sheet a kind of `w` by `h`, which holds what is on it."""
    root, old = s[SROOT, at], s[SKIND, at]
    put(s, log, USED, old, s[USED, old] - 1)
    put(s, log, USED, kind, s[USED, kind] + 1)
    put(s, log, SKIND, at, kind)
    d = s[DIR, root]
    along, across = (w, h) if d == 0 else (h, w)
    grown, depth = along - s[W + d, root], s[H - d, root]
    put(s, log, W + d, root, along)
    if across <= depth:
        if across < depth:
            shrink_across(s, log, knots, root, depth - across)
        set_slack(s, log, knots, root, s[SLACK, root] + grown)
        return
    n = lower_root(s, log, knots, root)
    set_slack(s, log, knots, n, s[SLACK, n] + grown)
    put(s, log, H - d, root, across)
    set_slack(s, log, knots, root, across - depth)
    if s[SLACK, n] == 0 and s[NEXT, s[FIRST, n]] < 0:
        dissolve(s, log, knots, root, n)
        set_slack(s, log, knots, root, s[SLACK, root])
