"""The search keeps its promises: never worse than its start, the bound ends it, steps repeat."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.budget import Budget
from nesting.improve.search import improve
from nesting.kernels import dials
from nesting.layouts import Layouts
from tests.nesting.improve.arrays import reduced_of, reduced_or_skip
from tests.strategies_nesting import problems

THIRDS = reduced_of([(10, 4, 6, True), (5, 6, 12, True)], [(10, 10, 2, -1)])


@given(problems(), st.integers(0, 9), st.integers(1, 2))
@settings(max_examples=40, deadline=None)
def test_reports_get_better_and_the_last_is_given(problem, seed, threads):
    reduced = reduced_or_skip(problem)
    seen = []
    found = improve(reduced, None, 0.0, Budget(steps=200), seed, threads, seen.append)
    ranks = [layouts.rank(reduced) for layouts in seen]
    assert ranks == sorted(set(ranks), reverse=True)
    assert seen[-1] is found
    again = improve(reduced, found, 0.0, Budget(steps=50), seed + 1, threads)
    assert again.rank(reduced) <= found.rank(reduced)


@pytest.mark.parametrize("threads", [1, 2])
def test_a_steps_limit_repeats_exactly(threads):
    reduced = reduced_of(
        [(41, 23, 9, True), (17, 35, 8, True), (52, 9, 7, True)],
        [(100, 80, 3, -1), (60, 60, 1, -1)],
    )
    first, second = (improve(reduced, None, 0.0, Budget(steps=3000), 5, threads) for _ in "12")
    for name in Layouts.__dataclass_fields__:
        np.testing.assert_array_equal(getattr(first, name), getattr(second, name))


def test_the_bound_ends_the_search_at_once():
    # 6 x 40 + 12 x 30 = 600: six full sheets of 100, each 10 x 4 with two 5 x 6
    budget = Budget(steps=10**9)
    found = improve(THIRDS, None, 12.0, budget, 1, 1)
    assert found.cost(THIRDS) == 12.0
    assert budget.steps_left() > 10**9 - 10**6


def test_a_start_that_meets_the_bound_is_given_back():
    start = improve(THIRDS, None, 12.0, Budget(steps=10**6), 1, 1)
    assert improve(THIRDS, start, 12.0, Budget(steps=10), 1, 1) is start


def test_short_stock_places_the_most_area():
    # one sheet of 10 x 10: 4 of the 5 x 5 fill it, the 9 x 9 alone would leave 19
    reduced = reduced_of([(9, 9, 1, False), (5, 5, 4, False)], [(10, 10, 1, 1)])
    found = improve(reduced, None, 0.0, Budget(steps=2000), 3, 1)
    assert found.missing_area(reduced) == 81
    assert list(found.placed(reduced)) == [0, 4]


def test_the_cheaper_of_two_sizes_is_found():
    # 4 of 5 x 5: one 10 x 10 for 3 or four 5 x 5 for 1 each
    reduced = reduced_of([(5, 5, 4, False)], [(5, 5, 1, -1), (10, 10, 3, -1)])
    assert improve(reduced, None, 3.0, Budget(steps=5000), 1, 1).cost(reduced) == 3.0


def test_no_two_dials_share_a_place():
    names = ("MEAN", "BLINK", "CLOSE", "HASTY", "RESIZE", "SPARE_PART", "COST_PART")
    assert sorted(getattr(dials, name) for name in names) == list(range(dials.DIALS))
