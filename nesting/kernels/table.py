"""The state of a guillotine search in one integer table, and the log that takes changes back.

The state is one int64 array ``s[column, row]``. A move starts with `begin`, which keeps the
counters of `HEAD`. All other writes go through `put`, which logs the old value, so that a rejected
move is undone exactly by `undo`, whatever it changed.

Columns by what their row number means:

* row = node: a guillotine tree without coordinates. A node is an item or a structure. A structure's
  children lie side by side along its direction (0: along the width, 1: along the length) and fill
  it across; what they leave free is its `SLACK`, one leftover at the end, since children may be
  permuted; `WORTH` is what that leftover is worth. Directions alternate from parent to child. The
  root of a tree is a sheet.
* row = place in a list: leftovers that may take an item (`LNODE`, `LW`, `LH`), open sheets
  (`SROOT`, `SKIND`) and item types with copies missing (`MLIST`). Lists are unordered: the last
  entry fills a gap.
* row = item type: copies missing (`MCOUNT`) and the place in the list of those (`MPOS`).
* row = kind of stock: sheets open (`USED`).
* `HEAD`: the counters named below it.

Functions that are called with constants carry a signature: without one they would be compiled
anew for every constant, which took two thirds of the compile time.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from nesting.kernels.compiled import inlined, kernel

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

KIND, W, H, PARENT, FIRST, NEXT, PREV, DIR, SLACK, POS, WORTH = range(11)
LNODE, LW, LH = 11, 12, 13
SROOT, SKIND = 14, 15
MLIST, MCOUNT, MPOS = 16, 17, 18
USED = 19
HEAD = 20
COLUMNS = 21

# Values of KIND that are not an item type.
STRUCTURE, FREE = -1, -2

# Rows of HEAD. FREED: first of the chain of freed nodes (by NEXT); ROWS: rows ever used by nodes;
# NODES: nodes in use; SPARE: summed worth of the leftovers; MISSING: of the items missing;
# LEAST_W, LEAST_H: a leftover below them takes no item of the problem. LIMITED: the shear has any
# of the limits that follow it, see `nesting.kernels.limits`.
FREED, ROWS, NODES, LEFTOVERS, SHEETS, MISSING_TYPES, SPARE, MISSING = range(8)
COUNTERS = 8
LEAST_W, LEAST_H = 8, 9
LIMITED, STAGES, FIRST_ACROSS, MIN_STRIP, MAX_CUT = 10, 11, 12, 13, 14
HEAD_ROWS = 15

# log[0] is the first free place in the log. The counters come first, as they were when the move
# began; then three places an entry: column, row, old value.
ENTRIES = 1 + COUNTERS
LOG_ROOM = 3 << 16

NONE = -1

# A sheet's root, an item, its two structures, and the structure that `lower_root` may add.
MOST_PER_INSERT = 5


@inlined("void(i8[:, ::1], i8[::1], i8, i8, i8)")
def put(s: Ints, log: Ints, column: int, row: int, value: int) -> None:
    """Write one cell and log what it held."""
    at = log[0]
    log[at] = column
    log[at + 1] = row
    log[at + 2] = s[column, row]
    log[0] = at + 3
    s[column, row] = value


@kernel()
def is_at_hand(s: Ints, kinds: Ints, kind: int) -> bool:
    """Tell whether another sheet of a kind of stock may be opened."""
    return bool(kinds[2, kind] < 0 or s[USED, kind] < kinds[2, kind])


@inlined()
def begin(s: Ints, log: Ints) -> None:
    """Clear the log: what was written so far stands."""
    log[0] = ENTRIES
    for row in range(COUNTERS):
        log[1 + row] = s[HEAD, row]


@kernel()
def undo(s: Ints, log: Ints) -> None:
    """Take back every write since the move began."""
    at = log[0]
    while at > ENTRIES:
        at -= 3
        s[log[at], log[at + 1]] = log[at + 2]
    log[0] = ENTRIES
    for row in range(COUNTERS):
        s[HEAD, row] = log[1 + row]


@kernel()
def log_is_long(log: Ints) -> bool:
    """Tell whether a move should come to an end, so that the log is never overrun."""
    return bool(log[0] > LOG_ROOM // 2)


@inlined("i8(i8[::1], i8)")
def draw(rng: Ints, below: int) -> int:
    """Give an integer of 0 .. below - 1 (xorshift with 32 bits, alike compiled and not)."""
    x = rng[0]
    x ^= (x << 13) & 0xFFFFFFFF
    x ^= x >> 17
    x ^= (x << 5) & 0xFFFFFFFF
    rng[0] = x
    return int((x * below) >> 32)


@inlined("i8(i8[:, ::1], i8[::1], i8, i8, i8)")
def new_node(s: Ints, log: Ints, kind: int, w: int, h: int) -> int:
    """Give a node without relatives."""
    n = s[HEAD, FREED]
    if n >= 0:
        s[HEAD, FREED] = s[NEXT, n]
    else:
        n = s[HEAD, ROWS]
        s[HEAD, ROWS] = n + 1
    s[HEAD, NODES] += 1
    put(s, log, KIND, n, kind)
    put(s, log, W, n, w)
    put(s, log, H, n, h)
    put(s, log, PARENT, n, NONE)
    put(s, log, FIRST, n, NONE)
    put(s, log, NEXT, n, NONE)
    put(s, log, PREV, n, NONE)
    put(s, log, POS, n, NONE)
    put(s, log, WORTH, n, 0)
    return int(n)


@inlined()
def free_node(s: Ints, log: Ints, n: int) -> None:
    """Put a node, already without relatives, on the chain of freed ones."""
    s[HEAD, NODES] -= 1
    put(s, log, KIND, n, FREE)
    put(s, log, NEXT, n, s[HEAD, FREED])
    s[HEAD, FREED] = n


@inlined()
def link(s: Ints, log: Ints, parent: int, n: int) -> None:
    """Make `n` the first child of `parent`."""
    first = s[FIRST, parent]
    put(s, log, PARENT, n, parent)
    put(s, log, PREV, n, NONE)
    put(s, log, NEXT, n, first)
    if first >= 0:
        put(s, log, PREV, first, n)
    put(s, log, FIRST, parent, n)


@inlined()
def unlink(s: Ints, log: Ints, n: int) -> None:
    """Take `n` out of its parent's children."""
    before, after = s[PREV, n], s[NEXT, n]
    if before >= 0:
        put(s, log, NEXT, before, after)
    else:
        put(s, log, FIRST, s[PARENT, n], after)
    if after >= 0:
        put(s, log, PREV, after, before)


@inlined("void(i8[:, ::1], i8[::1], i8[::1], i8, i8)")
def add_missing(s: Ints, log: Ints, worth: Ints, item: int, copies: int) -> None:
    """Change the number of copies of an item type that are not placed."""
    before = s[MCOUNT, item]
    after = before + copies
    put(s, log, MCOUNT, item, after)
    s[HEAD, MISSING] += copies * worth[item]
    count = s[HEAD, MISSING_TYPES]
    if before == 0:
        put(s, log, MLIST, count, item)
        put(s, log, MPOS, item, count)
        s[HEAD, MISSING_TYPES] = count + 1
    elif after == 0:
        at, last = s[MPOS, item], s[MLIST, count - 1]
        put(s, log, MLIST, at, last)
        put(s, log, MPOS, last, at)
        s[HEAD, MISSING_TYPES] = count - 1


def empty_table(rows: int, types: int, kinds: int) -> Ints:
    """Give the table of a state with nothing open, nothing placed and nothing missing."""
    s = np.zeros((COLUMNS, max(rows, types, kinds, HEAD_ROWS)), dtype=np.int64)
    s[KIND] = FREE
    s[POS] = NONE
    s[HEAD, FREED] = NONE
    return s


@kernel()
def is_full(s: Ints) -> bool:
    """Tell whether rows for one more item, its structures and a new sheet may be lacking."""
    return bool(s[HEAD, NODES] + MOST_PER_INSERT > s.shape[1])
