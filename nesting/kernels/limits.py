"""What a shear can cut: the limits of a problem as conditions on the nodes of the trees.

Along the direction of a structure the cuts run across it. A structure that is cut must keep to the
longest cut, and something in it must be large enough to lie under the hold-down to the last: its
slack, or an item anywhere in it (an item stays whole, however finely the rest is cut up). A root
that its only child fills is not cut. The limits stand in `HEAD`; 0 is no limit.
"""

from __future__ import annotations

from nesting.kernels.compiled import kernel
from nesting.kernels.leftovers import value
from nesting.kernels.table import (
    DIR,
    FIRST,
    FIRST_ACROSS,
    HEAD,
    KIND,
    LEFTOVERS,
    LH,
    LNODE,
    LW,
    MAX_CUT,
    MIN_STRIP,
    NEXT,
    NONE,
    PARENT,
    SLACK,
    STAGES,
    STRUCTURE,
    WORTH,
    Floats,
    H,
    Ints,
    W,
    draw,
)


@kernel()
def level(s: Ints, n: int) -> int:
    """Count the structures that are cut from the root down to `n`."""
    count = 1
    while s[PARENT, n] >= 0:
        n = s[PARENT, n]
        if s[PARENT, n] >= 0 or not is_filled(s, n):
            count += 1
    return count


@kernel()
def is_filled(s: Ints, n: int) -> bool:
    """Tell whether the only child of a structure fills it, so that it is not cut."""
    child = s[FIRST, n]
    return bool(child >= 0 and s[NEXT, child] < 0 and s[SLACK, n] == 0)


@kernel()
def has_item(s: Ints, n: int, d: int, size: int) -> bool:
    """Tell whether an item under `n` is at least so large along a direction."""
    at = s[FIRST, n]
    while at >= 0:
        if s[KIND, at] != STRUCTURE and s[W + d, at] >= size:
            return True
        if s[KIND, at] == STRUCTURE and s[FIRST, at] >= 0:
            at = s[FIRST, at]
            continue
        while at != n and s[NEXT, at] < 0:
            at = s[PARENT, at]
        if at == n:
            return False
        at = s[NEXT, at]
    return False


@kernel()
def allowed(
    s: Ints,
    d: int,
    first: int,
    along: int,
    across: int,
    room: int,
    depth: int,
    empty: bool,
    root: bool,
    depth_of_cuts: int,
    held: bool,
) -> bool:
    """Tell whether an item may be cut from a leftover of `room` by `depth`, see `may_insert`."""
    if empty and along == room and across == depth:
        return True
    cut = not (empty and along == room)
    if s[HEAD, FIRST_ACROSS] and root and (d != 1 or not cut):
        return False
    second = across != depth
    third = second and first != d and along != room
    stages, longest, least = s[HEAD, STAGES], s[HEAD, MAX_CUT], s[HEAD, MIN_STRIP]
    if stages and depth_of_cuts - (not cut) + second + third > stages:
        return False
    if longest and (
        (cut and depth > longest)
        or (second and (room if third else along) > longest)
        or (third and across > longest)
    ):
        return False
    if not least:
        return True
    rest = 0 if third else room - along
    return not (
        (cut and not held and max(along, rest) < least)
        or (second and max(across, depth - across) < least)
        or (third and max(along, room - along) < least)
    )


@kernel()
def may_insert(s: Ints, n: int, w: int, h: int, first: int) -> bool:
    """Tell whether `guillotine.insert` with these arguments leaves what the shear can cut."""
    empty = s[FIRST, n] < 0
    d = first if empty else s[DIR, n]
    along, across = (w, h) if d == 0 else (h, w)
    room = s[W + d, n] if empty else s[SLACK, n]
    least = s[HEAD, MIN_STRIP]
    held = least > 0 and not empty and has_item(s, n, d, least)
    deep = level(s, n) if s[HEAD, STAGES] else 1
    root = s[PARENT, n] < 0
    return bool(allowed(s, d, first, along, across, room, s[H - d, n], empty, root, deep, held))


@kernel()
def may_open(s: Ints, w: int, h: int, turn: bool, sheet_w: int, sheet_h: int) -> bool:
    """Tell whether the shear can cut an item from an empty sheet."""
    for turned in range(2 if turn else 1):
        if turned:
            w, h = h, w
        if w > sheet_w or h > sheet_h:
            continue
        if allowed(s, 0, 0, w, h, sheet_w, sheet_h, True, True, 1, False):
            return True
        if allowed(s, 1, 1, h, w, sheet_h, sheet_w, True, True, 1, False):
            return True
    return False


@kernel()
def may_tighten(s: Ints, n: int, push: int) -> bool:
    """Tell whether `guillotine.tighten` may push so much from `n` to its parent."""
    d, parent = s[DIR, n], s[PARENT, n]
    longest, least = s[HEAD, MAX_CUT], s[HEAD, MIN_STRIP]
    top = n if parent < 0 else parent
    if parent < 0 or (s[PARENT, parent] < 0 and is_filled(s, parent)):
        # the root is cut then as it was not before: along d, through its whole extent
        if s[HEAD, STAGES] or s[HEAD, FIRST_ACROSS]:
            return False
        if longest and s[W + d, top] > longest:
            return False
        if least and push < least and not has_item(s, top, 1 - d, least):
            return False
    child = s[FIRST, n]
    while least and child >= 0:
        rest = s[SLACK, child] - push
        dissolves = rest == 0 and s[NEXT, s[FIRST, child]] < 0
        if rest < least and not dissolves and not has_item(s, child, 1 - d, least):
            return False
        child = s[NEXT, child]
    return True


@kernel()
def best_allowed_place(
    s: Ints, rng: Ints, knots: Floats, w: int, h: int, turn: bool, blinks: int
) -> tuple[int, bool, int]:
    """Give what `fit.best_place` gives, among the places that the shear can cut."""
    best_cost, best_at, best_turned, best_first = 0, NONE, False, 0
    for at in range(s[HEAD, LEFTOVERS]):
        room_w, room_h = s[LW, at], s[LH, at]
        n = s[LNODE, at]
        for turned in range(2 if turn else 1):
            across, along = (h, w) if turned else (w, h)
            if across > room_w or along > room_h or draw(rng, 1024) < blinks:
                continue
            side, end = room_w - across, room_h - along
            for first in range(2):
                if first == 0:
                    left = value(knots, side * room_h) + value(knots, across * end)
                else:
                    left = value(knots, side * along) + value(knots, room_w * end)
                cost = s[WORTH, n] - left
                better = best_at < 0 or cost < best_cost
                if better and may_insert(s, n, across, along, first):
                    best_cost, best_at, best_turned, best_first = cost, at, turned == 1, first
    return best_at, best_turned, best_first
