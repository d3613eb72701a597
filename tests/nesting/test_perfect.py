"""Jobs without waste: full sheets cut up at random are put together again, the optimum is known."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Blank, Problem, Stock, solve, verify
from nesting.partition import partition
from nesting.perfect import wasteless_kind
from nesting.reduce import reduce_problem
from tests.strategies_nesting import zero_waste

SHOP = (48 * 64, 96 * 64)  # 48 x 96 in, in grid units of 1/64 in


@given(st.integers(0, 10_000), st.integers(1, 6), st.integers(1, 25), st.booleans())
@settings(max_examples=60, deadline=None, derandomize=True)
def test_up_to_six_sheets_of_up_to_25_blanks_are_found(seed, sheets, pieces, turn):
    problem = zero_waste(seed, sheets, pieces, turn, side=SHOP)
    plan = solve(problem, steps=200_000, threads=1)
    verify(problem, plan)
    assert plan.cost == plan.bound == sheets * 10.0


@given(st.integers(0, 10_000), st.integers(1, 3), st.integers(1, 9), st.booleans())
@settings(max_examples=40, deadline=None, derandomize=True)
def test_coarse_sizes_are_found(seed, sheets, pieces, turn):
    # on 96 x 144 units many sides are equal by chance
    problem = zero_waste(seed, sheets, pieces, turn)
    plan = solve(problem, steps=400_000, threads=1)
    verify(problem, plan)
    assert plan.cost == plan.bound == sheets * 10.0


@given(st.integers(0, 10_000), st.integers(1, 8))
@settings(max_examples=15, deadline=None, derandomize=True)
def test_kerf_is_no_waste(seed, kerf):
    problem = zero_waste(seed, 3, 15, kerf=kerf, side=SHOP)
    plan = solve(problem, steps=200_000, threads=1)
    verify(problem, plan)
    assert len(plan.sheets) == 3


def test_two_threads_find_it_too():
    problem = zero_waste(8, 4, 20, side=SHOP)
    plan = solve(problem, seconds=5.0, threads=2)
    verify(problem, plan)
    assert len(plan.sheets) == 4


def test_only_jobs_without_waste_are_tried():
    exact = reduce_problem(Problem([Blank("A", 5, 10, qty=4)], [Stock("s", 10, 20, 1.0)])).reduced
    assert wasteless_kind(exact, 1.0) == 0
    assert wasteless_kind(exact, 0.5) is None
    loose = reduce_problem(Problem([Blank("A", 5, 9, qty=4)], [Stock("s", 10, 20, 1.0)])).reduced
    assert wasteless_kind(loose, 1.0) is None


@pytest.mark.parametrize(
    ("sizes", "whole", "possible"),
    [
        ([], 10, True),
        ([10], 10, True),
        ([7, 3, 5, 5], 10, True),
        ([6, 6, 4, 4], 10, True),
        ([7, 7, 6], 10, False),
        ([9, 11], 10, False),
        ([5], 10, False),
    ],
)
def test_partition(sizes, whole, possible):
    found = partition(sizes, whole)
    assert (found is not None) == possible
    if found is not None:
        assert sorted(place for group in found for place in group) == list(range(len(sizes)))
        assert all(sum(sizes[place] for place in group) == whole for group in found)
