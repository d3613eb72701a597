"""The bound for several kinds: by hand, against the proved optimum, against one kind alone."""

import math

import numpy as np
import pytest
from hypothesis import given, settings

from nesting.bounds import lower_bound
from nesting.bounds.dual_feasible import sheets_needed
from nesting.bounds.kinds import Programme, functions, kinds_bound
from nesting.exact.one_sheet import least_cost
from tests.nesting.exact.layout_checks import problem, small_problems


def test_large_items_pay_for_the_large_kind():
    # 6 x 6 fit the 10 x 10 only, one a sheet: 3 sheets at 9. By area 3 x 36 / 100 of 9 would do.
    reduced = problem([(6, 6, 3)], [(10, 10, 9.0, -1), (5, 5, 1.0, -1)])
    assert kinds_bound(reduced, 5.0) == pytest.approx(27.0, rel=1e-6)


def test_the_cheaper_of_two_kinds_by_hand():
    # 4 x 4 three times: on 8 x 4 for 5 two lie, on 4 x 4 for 3 one. In parts of sheets 1.5 x 5.
    reduced = problem([(4, 4, 3)], [(8, 4, 5.0, -1), (4, 4, 3.0, -1)])
    assert kinds_bound(reduced, 5.0) == pytest.approx(7.5, rel=1e-6)
    # Costs that occur and buy the area: 8 (5 + 3) is the first from 7.5 on.
    assert lower_bound(reduced, 5.0) == 8.0


def test_stock_at_hand_counts():
    # One 8 x 4 only: two items for 5, the third on a 4 x 4 for 3, now also in parts of sheets.
    reduced = problem([(4, 4, 3)], [(8, 4, 5.0, 1), (4, 4, 3.0, -1)])
    assert kinds_bound(reduced, 5.0) == pytest.approx(8.0, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(small_problems(most_items=4, most_copies=2))
def test_never_above_the_optimum(reduced):
    best = least_cost(reduced, 20.0)
    assert best is not None
    if math.isinf(best):
        return
    assert kinds_bound(reduced, 0.5) <= best * (1 + 1e-9)
    assert lower_bound(reduced, 0.5) <= best * (1 + 1e-9)


@settings(max_examples=40, deadline=None)
@given(small_problems(most_items=4, most_copies=3, complete=True))
def test_not_below_any_price_of_pairs(reduced):
    # Any prices prove a bound, so the best ones prove at least what the area does.
    programme = Programme(reduced, [functions(reduced, k) for k in range(reduced.bin_w.size)])
    programme.solve()
    by_area = programme.proved()
    area = int((reduced.item_w * reduced.item_l * reduced.demand).sum())
    cheapest = float((reduced.bin_cost / (reduced.bin_w * reduced.bin_l)).min())
    assert by_area >= area * cheapest * (1 - 1e-6)
    assert kinds_bound(reduced, 5.0) >= by_area * (1 - 1e-9)


@settings(max_examples=40, deadline=None)
@given(small_problems(most_items=5, most_copies=3, complete=True))
def test_one_kind_is_at_least_as_good_as_its_best_pair(reduced):
    one = problem(
        list(zip(reduced.item_w, reduced.item_l, reduced.demand, strict=True)),
        [(int(reduced.bin_w[0]), int(reduced.bin_l[0]), 1.0, -1)],
        turn=reduced.turn,
    )
    if ((one.item_w > one.bin_w) | (one.item_l > one.bin_l)).any():
        return
    assert math.ceil(kinds_bound(one, 1.0) - 1e-6) >= sheets_needed(one, 0) or np.any(one.turn)
    assert lower_bound(one, 1.0) >= sheets_needed(one, 0)
