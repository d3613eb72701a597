"""Jobs without waste: full sheets cut up at random are put together again, the optimum is known."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Blank, Problem, Stock, solve, verify
from nesting.partition import Way, fill_sheets
from nesting.perfect import wasteless
from nesting.reduce import reduce_problem
from tests.strategies_nesting import zero_waste, zero_waste_of_sizes

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


@given(st.integers(0, 10_000), st.integers(2, 6), st.integers(1, 15), st.booleans())
@settings(max_examples=40, deadline=None, derandomize=True)
def test_sheets_of_several_sizes_are_filled(seed, sizes, pieces, turn):
    problem = zero_waste_of_sizes(seed, sizes, pieces, turn)
    plan = solve(problem, steps=200_000, threads=1)
    verify(problem, plan)
    assert plan.cost == sum(blank.area for blank in problem.blanks)


def test_two_threads_find_it_too():
    problem = zero_waste(8, 4, 20, side=SHOP)
    plan = solve(problem, seconds=5.0, threads=2)
    verify(problem, plan)
    assert len(plan.sheets) == 4


def test_only_jobs_without_waste_are_tried():
    exact = reduce_problem(Problem([Blank("A", 5, 10, qty=4)], [Stock("s", 10, 20, 1.0)])).reduced
    assert wasteless(exact, 1.0)
    assert not wasteless(exact, 0.5)
    loose = reduce_problem(Problem([Blank("A", 5, 9, qty=4)], [Stock("s", 10, 20, 1.0)])).reduced
    assert not wasteless(loose, 1.0)


def test_stock_at_hand_must_do_for_it():
    blanks = [Blank("A", 5, 10, qty=4)]
    short = reduce_problem(Problem(blanks, [Stock("s", 10, 10, 1.0, qty=1)])).reduced
    assert not wasteless(short, 10.0)
    both = [Stock("s", 10, 10, 1.0, qty=1), Stock("half", 5, 10, 1.0, qty=2)]
    assert wasteless(reduce_problem(Problem(blanks, both)).reduced, 3.0)
    assert not wasteless(reduce_problem(Problem(blanks, both)).reduced, 2.0)


def test_strips_over_several_kinds():
    # a 10 x 10 filled over its width by 10 x 6 and 10 x 4, a 6 x 5 along its length by 3 + 3
    ways = [Way(0, 10, [6, 4, 0, 0]), Way(1, 6, [0, 0, 3, 3])]
    assert fill_sheets(ways, [1, 1], range(4)) == [(0, [0, 1]), (1, [2, 3])]
    assert fill_sheets(ways, [1, 0], range(4)) is None


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
    found = fill_sheets([Way(0, whole, sizes)], [-1], range(len(sizes)))
    assert (found is not None) == possible
    if found is not None:
        assert sorted(place for _, group in found for place in group) == list(range(len(sizes)))
        assert all(sum(sizes[place] for place in group) == whole for _, group in found)
