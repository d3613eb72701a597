"""The sheet count by dual feasible functions never exceeds what a known cutting needs."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.bounds import lower_bound
from nesting.bounds.dual_feasible import sheets_needed
from nesting.reduce import Reduced


def one_kind(items, width, length, *, turn, copies=-1, cost=1.0):
    """A problem with one stock kind; items are (width, length) or (width, length, demand)."""
    rows = [(*item, 1)[:3] for item in items]
    w, h, demand = (np.array(column, dtype=np.int64) for column in zip(*rows, strict=True))
    may = np.broadcast_to(np.asarray(turn), w.shape) & (w != h)
    return Reduced(
        item_w=w,
        item_l=h,
        demand=demand,
        turn=may,
        bin_w=np.array([width], dtype=np.int64),
        bin_l=np.array([length], dtype=np.int64),
        bin_cost=np.array([cost], dtype=np.float64),
        bin_qty=np.array([copies], dtype=np.int64),
    )


def cut_up(draw, width, length, pieces):
    """Split a full sheet by random guillotine cuts."""
    parts = [(width, length)]
    for _ in range(pieces - 1):
        at = draw(st.integers(0, len(parts) - 1))
        w, h = parts[at]
        across = draw(st.booleans())
        side = w if across else h
        if side < 2:
            continue
        cut = draw(st.integers(1, side - 1))
        parts[at] = (cut, h) if across else (w, cut)
        parts.append((side - cut, h) if across else (w, side - cut))
    return parts


@st.composite
def zero_waste(draw):
    """Sheets cut up without waste: the number of sheets is the optimum."""
    width, length = draw(st.integers(2, 60)), draw(st.integers(2, 60))
    square = draw(st.booleans())
    length = width if square else length
    sheets = draw(st.integers(1, 4))
    items = [
        part
        for _ in range(sheets)
        for part in cut_up(draw, width, length, draw(st.integers(1, 10)))
    ]
    turn = np.array([draw(st.booleans()) for _ in items])
    flipped = [
        (h, w) if t and h <= width and w <= length and draw(st.booleans()) else (w, h)
        for (w, h), t in zip(items, turn, strict=True)
    ]
    return one_kind(flipped, width, length, turn=turn), sheets


@settings(max_examples=150, deadline=None)
@given(zero_waste())
def test_zero_waste_is_met_exactly(made):
    problem, sheets = made
    assert sheets_needed(problem, 0) == sheets


@settings(max_examples=150, deadline=None)
@given(zero_waste(), st.data())
def test_dropping_pieces_never_needs_more(made, data):
    problem, sheets = made
    keep = data.draw(st.lists(st.booleans(), min_size=problem.demand.size))
    kept = np.array(keep[: problem.demand.size])
    if not kept.any():
        return
    left = Reduced(
        problem.item_w[kept],
        problem.item_l[kept],
        problem.demand[kept],
        problem.turn[kept],
        problem.bin_w,
        problem.bin_l,
        problem.bin_cost,
        problem.bin_qty,
    )
    assert 1 <= sheets_needed(left, 0) <= sheets


@settings(max_examples=60, deadline=None)
@given(zero_waste())
def test_freedom_to_turn_never_raises_the_bound(made):
    problem, _ = made
    fixed = one_kind(
        list(zip(problem.item_w.tolist(), problem.item_l.tolist(), strict=True)),
        int(problem.bin_w[0]),
        int(problem.bin_l[0]),
        turn=False,
    )
    if (fixed.item_w > fixed.bin_w).any() or (fixed.item_l > fixed.bin_l).any():
        return
    assert sheets_needed(problem, 0) <= sheets_needed(fixed, 0)


def test_halves_by_hand():
    # 6 x 6 on 10 x 10: no two fit, whatever the area (36 of 100) says.
    assert sheets_needed(one_kind([(6, 6, 7)], 10, 10, turn=False), 0) == 7
    # 6 x 5, turned or not: two on a sheet, area alone says ceil(7 * 30 / 100) = 3.
    assert sheets_needed(one_kind([(6, 5, 7)], 10, 10, turn=True), 0) == 4


def test_a_long_sheet_takes_the_lesser_orientation():
    # 6 x 11 on 10 x 20 lies lengthwise only (11 > 10) and then fills more than half of the width
    # and more than half of the length: one a sheet.
    assert sheets_needed(one_kind([(6, 11, 3)], 10, 20, turn=True), 0) == 3
    # 6 x 10 may lie either way; lengthwise two fit end to end, crosswise three (6 + 6 + 6 < 20).
    assert sheets_needed(one_kind([(6, 10, 6)], 10, 20, turn=True), 0) == 2


def test_item_order_and_orientation_given_do_not_matter():
    items = [(7, 3, 2), (4, 9, 3), (5, 5, 1), (8, 2, 4)]
    straight = one_kind(items, 12, 12, turn=True)
    other = one_kind([(h, w, n) for w, h, n in reversed(items)], 12, 12, turn=True)
    assert sheets_needed(straight, 0) == sheets_needed(other, 0)


@pytest.mark.parametrize("turn", [False, True])
def test_cost_and_stock_at_hand(turn):
    problem = one_kind([(6, 6, 7)], 10, 10, turn=turn, cost=41.5)
    assert lower_bound(problem, 0.0) == 7 * 41.5
    short = one_kind([(6, 6, 7)], 10, 10, turn=turn, copies=6)
    assert lower_bound(short, 0.0) == float("inf")


def test_nothing_costs_nothing():
    nothing = one_kind([(6, 6, 0)], 10, 10, turn=True)
    assert lower_bound(nothing, 0.0) == 0.0
