"""What a worker aims at: always cheaper than the best, by what sheets have held before."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.budget import Budget
from nesting.improve.search import improve
from nesting.improve.targets import FEW, MANY, SOME, Targets
from nesting.layouts import Layouts
from tests.nesting.improve.arrays import reduced_of

# 60 of 3 x 4, an area of 720, from sheets of 400, 300 and 90
STOCK = [(20, 20, 400, -1), (15, 20, 300, -1), (9, 10, 90, -1)]
MIXED = reduced_of([(3, 4, 60, False)], STOCK)


def targets(seed=0, limit=1000.0):
    sheets = np.zeros(2, dtype=np.int64)
    none = np.zeros(0, dtype=np.int64)
    best = Layouts(sheets, none, none, none, none, none.astype(np.bool_))
    return Targets.of(MIXED, best, 720.0, limit, np.random.default_rng(seed))


@given(st.integers(0, 99), st.floats(730, 1000), st.floats(0, 1100))
def test_no_choice_costs_more_than_the_limit(seed, limit, hoped):
    counts = targets(seed).next(limit, hoped)
    assert counts is not None
    assert 720 <= counts @ MIXED.bin_cost <= limit


def test_nothing_is_left_below_the_cheapest_choice():
    assert targets().next(719.0, 0.0) is None


def test_failures_lead_to_other_choices():
    aims, seen = targets(), set()
    for _ in range(30):
        seen.add(tuple(aims.next(1000.0, 800.0).tolist()))
        aims.failed()
    assert len(seen) >= 6


def test_full_sheets_are_aimed_at_by_what_they_held():
    # 0.9 of the items on stock of 720: stock of about 800 may do
    costs = [float(targets(seed).next(1000.0, 800.0) @ MIXED.bin_cost) for seed in range(20)]
    assert min(costs) >= 780
    assert max(costs) <= 900


@pytest.mark.parametrize(
    ("items", "sheets", "chosen"),
    [
        (SOME * FEW, FEW, True),
        (SOME * FEW - 1, FEW, False),
        (MANY * (FEW + 1), FEW + 1, True),
        (MANY * (FEW + 1) - 1, FEW + 1, False),
    ],
)
def test_sheets_of_few_items_are_not_chosen_by_area(items, sheets, chosen):
    asked = reduced_of([(3, 4, items, False)], STOCK)
    none = np.zeros(0, dtype=np.int64)
    stock = np.zeros(sheets, dtype=np.int64)
    best = Layouts(stock, none, none, none, none, none.astype(np.bool_))
    found = Targets.of(asked, best, 0.0, 1000.0, np.random.default_rng(0))
    assert (found is not None) is chosen


@pytest.mark.parametrize("threads", [1, 2])
def test_the_search_repeats_and_ends_where_nothing_is_cheaper(threads):
    found = [improve(MIXED, None, 0.0, Budget(steps=60_000), 3, threads) for _ in "12"]
    assert found[0].cost(MIXED) == found[1].cost(MIXED) <= 790
    np.testing.assert_array_equal(found[0].stock, found[1].stock)
    assert not found[0].unplaced(MIXED).any()
