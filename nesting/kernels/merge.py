"""Merge rectangles of equal side until each fills a sheet exactly: for jobs without any waste.

When nothing is wasted, the two parts of every guillotine cut have a side in common, so the last
cuts can be found from the pieces alone. Pairs with the rarest common side are merged first; what
was merged wrongly is broken up at random and merged again.

Table ``s[column, node]``; the first nodes are the items, the others merged pairs. A node that spans
a whole side of a sheet of some kind is a strip: which strips make up which sheets is found
elsewhere. ``kinds``: int64[2, s], width and length of each kind of stock.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from numba import njit

Ints = npt.NDArray[np.int64]

W, L, LEFT, RIGHT, PARENT, POS, STACKED, ROOT, SPARE, STRIP = range(10)
COLUMNS = 10
INNER = -1  # POS of a node that is part of another
UNUSED = -3

# values of STACKED: the parts share the node's width and lie one above the other, or its length
ALONG_LENGTH, ALONG_WIDTH = 0, 1

# of the array of counters
ROOTS, STRIPS, SPARES, ITEMS, TURN, LARGEST, SEED = range(7)
COUNTERS = 7


@njit(cache=True, nogil=True)
def draw(c: Ints, below: int) -> int:
    """A number from 0 to below - 1 (xorshift)."""
    x = c[SEED]
    x ^= (x << 13) & 0x7FFFFFFFFFFFFFFF
    x ^= x >> 7
    x ^= (x << 17) & 0x7FFFFFFFFFFFFFFF
    c[SEED] = x
    return int((x >> 8) % below)


@njit(cache=True, nogil=True)
def count_sides(s: Ints, c: Ints, count: Ints, n: int, by: int) -> None:
    """Count the sides of a root in or out."""
    count[0, s[W, n]] += by
    count[0 if c[TURN] else 1, s[L, n]] += by


@njit(cache=True, nogil=True)
def spans(kinds: Ints, w: int, h: int) -> bool:
    """True when a rectangle as it lies fits a sheet of some kind and has a whole side of it."""
    for kind in range(kinds.shape[1]):
        width, length = kinds[0, kind], kinds[1, kind]
        if (w == width and h <= length) or (h == length and w <= width):
            return True
    return False


@njit(cache=True, nogil=True)
def new_node(s: Ints, c: Ints, kinds: Ints, n: int, w: int, h: int) -> None:
    """Give a node its size."""
    s[W, n], s[L, n] = w, h
    s[STRIP, n] = spans(kinds, w, h) or (c[TURN] == 1 and spans(kinds, h, w))


@njit(cache=True, nogil=True)
def add_root(s: Ints, c: Ints, count: Ints, n: int) -> None:
    """Make a node a root."""
    s[PARENT, n] = -1
    s[POS, n] = c[ROOTS]
    s[ROOT, c[ROOTS]] = n
    c[ROOTS] += 1
    c[STRIPS] += s[STRIP, n]
    count_sides(s, c, count, n, 1)


@njit(cache=True, nogil=True)
def drop_root(s: Ints, c: Ints, count: Ints, n: int) -> None:
    """Take a node off the roots."""
    c[ROOTS] -= 1
    last = s[ROOT, c[ROOTS]]
    s[ROOT, s[POS, n]] = last
    s[POS, last] = s[POS, n]
    s[POS, n] = INNER
    c[STRIPS] -= s[STRIP, n]
    count_sides(s, c, count, n, -1)


@njit(cache=True, nogil=True)
def merge(
    s: Ints, c: Ints, kinds: Ints, count: Ints, a: int, b: int, w: int, h: int, stacked: int
) -> None:
    """Make two roots the parts of a new node."""
    drop_root(s, c, count, a)
    drop_root(s, c, count, b)
    c[SPARES] -= 1
    n = s[SPARE, c[SPARES]]
    new_node(s, c, kinds, n, w, h)
    s[LEFT, n], s[RIGHT, n], s[STACKED, n] = a, b, stacked
    s[PARENT, a] = n
    s[PARENT, b] = n
    add_root(s, c, count, n)


@njit(cache=True, nogil=True)
def break_up(s: Ints, c: Ints, count: Ints, n: int) -> None:
    """Undo a node and all it is part of; their other parts become roots."""
    top = n
    while s[PARENT, top] >= 0:
        top = s[PARENT, top]
    drop_root(s, c, count, top)
    child = -1
    while n >= 0:
        up = s[PARENT, n]
        for part in (s[LEFT, n], s[RIGHT, n]):
            if part != child:
                add_root(s, c, count, part)
        s[POS, n] = UNUSED
        s[SPARE, c[SPARES]] = n
        c[SPARES] += 1
        child, n = n, up


@njit(cache=True, nogil=True)
def whole_side(c: Ints, kinds: Ints, axis: int, side: int) -> bool:
    """True when a side is a whole one of a sheet of some kind."""
    for kind in range(kinds.shape[1]):
        if side == kinds[axis, kind] or (c[TURN] == 1 and side == kinds[1 - axis, kind]):
            return True
    return False


@njit(cache=True, nogil=True)
def score(
    c: Ints,
    kinds: Ints,
    count: Ints,
    axis: int,
    side: int,
    other_axis: int,
    other: int,
    noise: int,
) -> int:
    """How doubtful a merge is: by how many share the side, and whether the outcome has a mate."""
    doubt = (count[axis, side] - 1) * 16
    if whole_side(c, kinds, other_axis, other):
        doubt //= 4
    elif count[other_axis, other] > 0:
        doubt //= 2
    return int(doubt * (64 + draw(c, noise)))


@njit(cache=True, nogil=True)
def fits(c: Ints, kinds: Ints, w: int, h: int) -> bool:
    """True when a rectangle fits a sheet of some kind."""
    for kind in range(kinds.shape[1]):
        width, length = kinds[0, kind], kinds[1, kind]
        if (w <= width and h <= length) or (c[TURN] == 1 and h <= width and w <= length):
            return True
    return False


@njit(cache=True, nogil=True)
def merge_best(
    s: Ints, c: Ints, kinds: Ints, count: Ints, noise: int, tabu_a: int, tabu_b: int
) -> bool:
    """Merge the least doubtful pair of roots; False when there is none."""
    best = 1 << 60
    best_a = best_b = best_w = best_l = best_stacked = -1
    for i in range(c[ROOTS]):
        a = s[ROOT, i]
        strip = s[STRIP, a] == 1
        for j in range(i):
            b = s[ROOT, j]
            if strip and s[STRIP, b] == 1:
                continue
            if (a == tabu_a and b == tabu_b) or (a == tabu_b and b == tabu_a):
                continue
            for way in range(4 if c[TURN] else 2):
                # 0: width with width, 1: length with length, 2 and 3: one of them turned
                side_a = s[W, a] if way in (0, 2) else s[L, a]
                side_b = s[W, b] if way in (0, 3) else s[L, b]
                if side_a != side_b:
                    continue
                other = s[W, a] + s[L, a] + s[W, b] + s[L, b] - 2 * side_a
                stacked = ALONG_WIDTH if way == 1 and not c[TURN] else ALONG_LENGTH
                w = other if stacked == ALONG_WIDTH else side_a
                h = side_a if stacked == ALONG_WIDTH else other
                if not fits(c, kinds, w, h):
                    continue
                axis = 1 if stacked == ALONG_WIDTH else 0
                other_axis = 0 if c[TURN] else 1 - axis
                doubt = score(c, kinds, count, axis, side_a, other_axis, other, noise)
                if strip or s[STRIP, b] == 1:
                    doubt = (doubt + 1024) * 8
                if doubt < best:
                    best = doubt
                    best_a, best_b, best_w, best_l, best_stacked = a, b, w, h, stacked
    if best_a < 0:
        return False
    merge(s, c, kinds, count, best_a, best_b, best_w, best_l, best_stacked)
    return True


@njit(cache=True, nogil=True)
def restore(s: Ints, c: Ints, count: Ints, old: Ints, old_c: Ints) -> None:
    """Go back to an earlier state; the generator goes on."""
    for i in range(c[ROOTS]):
        count_sides(s, c, count, s[ROOT, i], -1)
    s[:] = old
    seed = c[SEED]
    c[:] = old_c
    c[SEED] = seed
    for i in range(c[ROOTS]):
        count_sides(s, c, count, s[ROOT, i], 1)


@njit(cache=True, nogil=True)
def energy(s: Ints, c: Ints, mix: int) -> int:
    """0 when all roots are strips, else the more the more of them and of their area aren't."""
    area = 0
    for i in range(c[ROOTS]):
        n = s[ROOT, i]
        if s[STRIP, n] == 0:
            area += s[W, n] * s[L, n]
    return int((c[ROOTS] - c[STRIPS]) * mix + area * 256 // c[LARGEST])


@njit(cache=True, nogil=True)
def search(
    s: Ints, c: Ints, kinds: Ints, count: Ints, history: Ints, steps: int, noise: int, mix: int
) -> int:
    """Break up and merge again, by late acceptance, until all roots are strips; steps made."""
    old, old_c = s.copy(), c.copy()
    nodes = s.shape[1]
    for step in range(steps):
        now = energy(s, c, mix)
        tabu_a = tabu_b = -1
        for _ in range(1 + draw(c, 3)):
            n = c[ITEMS] + draw(c, nodes - c[ITEMS])
            if s[POS, n] == UNUSED:
                continue
            tabu_a, tabu_b = s[LEFT, n], s[RIGHT, n]
            break_up(s, c, count, n)
        loud = noise if draw(c, 4) else noise * 32
        while merge_best(s, c, kinds, count, loud, tabu_a, tabu_b):
            pass
        place = step % history.size
        new = energy(s, c, mix)
        if new <= max(now, history[place]):
            old[:] = s
            old_c[:] = c
            history[place] = new
        else:
            restore(s, c, count, old, old_c)
            history[place] = now
        if new == 0:
            return step + 1
    return steps
