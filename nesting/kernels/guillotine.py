"""Changes of guillotine trees: open and close sheets, insert and remove items, tighten.

Every function leaves the table in a state that `nesting.improve.state.State.check` accepts.
"""

from __future__ import annotations

from nesting.kernels.compiled import inlined, kernel
from nesting.kernels.leftovers import refresh, set_slack, value
from nesting.kernels.limits import may_tighten
from nesting.kernels.table import (
    DIR,
    FIRST,
    HEAD,
    KIND,
    LIMITED,
    NEXT,
    NONE,
    PARENT,
    SHEETS,
    SKIND,
    SLACK,
    SROOT,
    STRUCTURE,
    USED,
    Floats,
    H,
    Ints,
    W,
    add_missing,
    free_node,
    link,
    new_node,
    put,
    unlink,
)


@kernel("i8(i8[:, ::1], i8[::1], f8[::1], i8, i8, i8, i8)")
def new_structure(
    s: Ints, log: Ints, knots: Floats, direction: int, along: int, across: int, slack: int
) -> int:
    """Give a structure without children: `along` its direction, `across` it, `slack` free."""
    if direction == 0:
        n = new_node(s, log, STRUCTURE, along, across)
    else:
        n = new_node(s, log, STRUCTURE, across, along)
    put(s, log, DIR, n, direction)
    set_slack(s, log, knots, n, slack)
    return n


@kernel()
def free_structure(s: Ints, log: Ints, knots: Floats, n: int) -> None:
    """Free a structure that has neither children nor parent any more."""
    set_slack(s, log, knots, n, 0)
    free_node(s, log, n)


@kernel()
def open_sheet(s: Ints, log: Ints, knots: Floats, kind: int, w: int, h: int) -> int:
    """Open an empty sheet and give its root."""
    n = new_structure(s, log, knots, 0, w, h, w)
    count = s[HEAD, SHEETS]
    put(s, log, SROOT, count, n)
    put(s, log, SKIND, count, kind)
    s[HEAD, SHEETS] = count + 1
    put(s, log, USED, kind, s[USED, kind] + 1)
    return n


@kernel()
def close_sheet(s: Ints, log: Ints, knots: Floats, root: int) -> None:
    """Close a sheet whose root has no children."""
    last = s[HEAD, SHEETS] - 1
    at = 0
    while s[SROOT, at] != root:
        at += 1
    kind = s[SKIND, at]
    put(s, log, USED, kind, s[USED, kind] - 1)
    put(s, log, SROOT, at, s[SROOT, last])
    put(s, log, SKIND, at, s[SKIND, last])
    s[HEAD, SHEETS] = last
    free_structure(s, log, knots, root)


@kernel()
def insert(
    s: Ints, log: Ints, knots: Floats, n: int, item: int, w: int, h: int, first: int
) -> tuple[int, int]:
    """Put an item of `w` by `h` into the leftover of structure `n`.

    `first` is the direction of the first cut's parts: 0 cuts across the width, so that the item's
    strip stands over the leftover's whole length; 1 the other way round. Gives the inner structures
    made (NONE where there is none); they and `n` are all whose leftovers changed.
    """
    if s[FIRST, n] < 0:  # an empty sheet takes either direction
        put(s, log, DIR, n, first)
        put(s, log, SLACK, n, s[W + first, n])
    d = s[DIR, n]
    along, across = (w, h) if d == 0 else (h, w)
    room, depth = s[SLACK, n], s[H - d, n]
    leaf = new_node(s, log, item, w, h)
    outer, inner = NONE, NONE
    if across == depth:
        link(s, log, n, leaf)
        set_slack(s, log, knots, n, room - along)
    elif first == d or along == room:
        outer = new_structure(s, log, knots, 1 - d, depth, along, depth - across)
        link(s, log, n, outer)
        link(s, log, outer, leaf)
        set_slack(s, log, knots, n, room - along)
    else:
        outer = new_structure(s, log, knots, 1 - d, depth, room, depth - across)
        inner = new_structure(s, log, knots, d, room, across, room - along)
        link(s, log, n, outer)
        link(s, log, outer, inner)
        link(s, log, inner, leaf)
        set_slack(s, log, knots, n, 0)
    return outer, inner


@kernel()
def clear(s: Ints, log: Ints, knots: Floats, worth: Ints, top: int) -> None:
    """Free a subtree, already unlinked; its items are missing then."""
    n = top
    while True:
        child = s[FIRST, n]
        if child >= 0:
            n = child
            continue
        parent, after, kind = s[PARENT, n], s[NEXT, n], s[KIND, n]
        if kind == STRUCTURE:
            free_structure(s, log, knots, n)
        else:
            add_missing(s, log, worth, kind, 1)
            free_node(s, log, n)
        if n == top:
            return
        put(s, log, FIRST, parent, after)
        n = parent


@kernel()
def remove(s: Ints, log: Ints, knots: Floats, worth: Ints, n: int) -> None:
    """Remove a node with all under it, what is empty then, and tighten what is around it."""
    parent = s[PARENT, n]
    while parent >= 0:
        extent = s[W + s[DIR, parent], n]
        unlink(s, log, n)
        put(s, log, NEXT, n, NONE)
        clear(s, log, knots, worth, n)
        set_slack(s, log, knots, parent, s[SLACK, parent] + extent)
        if s[FIRST, parent] >= 0:
            tighten_upwards(s, log, knots, parent)
            return
        n = parent
        parent = s[PARENT, n]
    child = s[FIRST, n]
    while child >= 0:
        unlink(s, log, child)
        put(s, log, NEXT, child, NONE)
        clear(s, log, knots, worth, child)
        child = s[FIRST, n]
    close_sheet(s, log, knots, n)


@kernel()
def tighten_upwards(s: Ints, log: Ints, knots: Floats, n: int) -> None:
    """Tighten `n` and its ancestors, from below."""
    while n >= 0:
        tighten(s, log, knots, n)
        n = s[PARENT, n]


@inlined()
def common_slack(s: Ints, n: int) -> int:
    """Give the smallest slack of the children of `n`, 0 where one of them is an item."""
    least = s[H - s[DIR, n], n]
    child = s[FIRST, n]
    while child >= 0:
        if s[KIND, child] != STRUCTURE:
            return 0
        least = min(least, s[SLACK, child])
        child = s[NEXT, child]
    return int(least)


@inlined()
def tighten_gain(s: Ints, knots: Floats, n: int, push: int) -> int:
    """Give what the leftovers are worth more when `push` goes from `n` to its parent."""
    d = s[DIR, n]
    depth, extent = s[H - d, n], s[W + d, n]
    parent = s[PARENT, n]
    before = s[SLACK, parent] if parent >= 0 else 0
    gain = value(knots, extent * (before + push)) - value(knots, extent * before)
    gain += value(knots, s[SLACK, n] * (depth - push)) - value(knots, s[SLACK, n] * depth)
    child = s[FIRST, n]
    while child >= 0:
        along, slack = s[W + d, child], s[SLACK, child]
        gain += value(knots, along * (slack - push)) - value(knots, along * slack)
        child = s[NEXT, child]
    return gain


@kernel()
def tighten(s: Ints, log: Ints, knots: Floats, n: int) -> bool:
    """Push the smallest common slack of the children of `n` up to its parent where that pays.

    Tells whether it did. A root gets a new structure under it for its children first.
    """
    push = common_slack(s, n)
    if push == 0 or tighten_gain(s, knots, n, push) <= 0:
        return False
    if s[HEAD, LIMITED] and not may_tighten(s, n, push):
        return False
    if s[PARENT, n] < 0:
        n = lower_root(s, log, knots, n)
    shrink_across(s, log, knots, n, push)
    parent = s[PARENT, n]
    set_slack(s, log, knots, parent, s[SLACK, parent] + push)
    return True


@kernel()
def shrink_across(s: Ints, log: Ints, knots: Floats, n: int, push: int) -> None:
    """Take `push`, no more than the common slack, off `n` and its children across `n`."""
    d = s[DIR, n]
    put(s, log, H - d, n, s[H - d, n] - push)
    child = s[FIRST, n]
    while child >= 0:
        after = s[NEXT, child]
        put(s, log, H - d, child, s[H - d, child] - push)
        set_slack(s, log, knots, child, s[SLACK, child] - push)
        if s[SLACK, child] == 0 and s[NEXT, s[FIRST, child]] < 0:
            dissolve(s, log, knots, n, child)
        child = after
    refresh(s, log, knots, n)


@kernel()
def lower_root(s: Ints, log: Ints, knots: Floats, root: int) -> int:
    """Move the children of a root to a new structure, its only child, which is given."""
    d = s[DIR, root]
    n = new_structure(s, log, knots, d, s[W + d, root], s[H - d, root], 0)
    slack = s[SLACK, root]
    child = s[FIRST, root]
    put(s, log, FIRST, n, child)
    while child >= 0:
        put(s, log, PARENT, child, n)
        child = s[NEXT, child]
    put(s, log, FIRST, root, NONE)
    set_slack(s, log, knots, root, 0)
    put(s, log, DIR, root, 1 - d)
    link(s, log, root, n)
    set_slack(s, log, knots, n, slack)
    return n


@kernel()
def dissolve(s: Ints, log: Ints, knots: Floats, n: int, outer: int) -> None:
    """Put the only child of `outer`, which leaves nothing free, in its place under `n`.

    A structure there has the direction of `n`, so its children and its slack join those of `n`.
    """
    inner = s[FIRST, outer]
    unlink(s, log, outer)
    put(s, log, FIRST, outer, NONE)
    if s[KIND, inner] != STRUCTURE:
        link(s, log, n, inner)
    else:
        put(s, log, SLACK, n, s[SLACK, n] + s[SLACK, inner])
        child = s[FIRST, inner]
        while child >= 0:
            after = s[NEXT, child]
            link(s, log, n, child)
            child = after
        put(s, log, FIRST, inner, NONE)
        free_structure(s, log, knots, inner)
    free_structure(s, log, knots, outer)
