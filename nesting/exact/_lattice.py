"""Compiled dynamic programme for one sheet on whole numbers: values only, in straight loops."""

from numba import njit

from nesting.arrays import BoolArray, IntArray, ValueArray


@njit(cache=True, nogil=True, fastmath=True)
def fill_lattice(
    w: IntArray,
    n: IntArray,
    value: ValueArray,
    on_width: BoolArray,
    on_length: BoolArray,
    best: ValueArray,
) -> None:
    """Best value of every room i x j, from items, smaller rooms and one cut through.

    Of the two parts of a cut one is as wide (or long) as a sum of item sizes: what lies in it can
    be pushed together.

    Args:
        w: int64[b], width of each way an item may lie.
        n: int64[b], its length.
        value: float32[b], of one copy.
        on_width: bool[width + 1], sums of item sizes along the width.
        on_length: bool[length + 1], the same along the length.
        best: float32[width + 1, length + 1], zeros; out: the value of each room.
    """
    for b in range(w.size):
        best[w[b], n[b]] = max(best[w[b], n[b]], value[b])
    for i in range(1, best.shape[0]):
        row, under = best[i], best[i - 1]
        for j in range(row.size):
            row[j] = max(row[j], under[j])
        if not on_width[i]:
            continue
        for p in range(1, i // 2 + 1):
            if on_width[p]:
                add_up(row, best[p], best[i - p])
        cut_across(row, on_length)


@njit(cache=True, nogil=True, fastmath=True)
def add_up(row: ValueArray, near: ValueArray, far: ValueArray) -> None:
    """Raise each room to the sum of the same rooms of two others."""
    for j in range(row.size):
        row[j] = max(row[j], near[j] + far[j])


@njit(cache=True, nogil=True, fastmath=True)
def cut_across(row: ValueArray, on_length: BoolArray) -> None:
    """Cuts through rooms of one width, the shorter first: its value is added to shorter ones'."""
    for j in range(1, row.size):
        row[j] = max(row[j], row[j - 1])
        if on_length[j]:
            shorter = min(j, row.size - 1 - j)
            longer, rest, whole = row[j], row[1 : shorter + 1], row[j + 1 : j + shorter + 1]
            for k in range(shorter):
                whole[k] = max(whole[k], longer + rest[k])
