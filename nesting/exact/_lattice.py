"""Compiled dynamic programme for one sheet on whole numbers: values only, in straight loops."""

from numba import njit

from nesting.arrays import BoolArray, ValueArray


@njit(cache=True, nogil=True, fastmath=True)
def fill_rows(
    on_width: BoolArray, on_length: BoolArray, best: ValueArray, first: int, end: int
) -> None:
    """Best value of the rooms i x j for i in first .. end - 1, from smaller rooms and one cut.

    Of the two parts of a cut one is as wide (or long) as a sum of item sizes: what lies in it can
    be pushed together.

    Args:
        on_width: bool[width + 1], sums of item sizes along the width.
        on_length: bool[length + 1], the same along the length.
        best: float32[width + 1, length + 1]; in: what an item of just that size is worth, and the
            value of the rooms of rows before; out: the value of these too.
        first: 1 or more.
        end: up to width + 1.
    """
    for i in range(first, end):
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
