"""Column generation: sheets keep the rules, its bound stays below the proved optimum."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings

from nesting.bounds import lower_bound
from nesting.budget import Budget
from nesting.exact.choose_sheets import better
from nesting.exact.columns import column_generation
from nesting.exact.generator import Generator
from nesting.exact.one_sheet import least_cost
from tests.nesting.exact.layout_checks import assert_valid, problem, small_problems


@settings(max_examples=20, deadline=None)
@given(small_problems(most_items=4, most_copies=2, complete=True))
def test_between_bound_and_optimum(reduced):
    best = least_cost(reduced, 20.0)
    assert best is not None
    layouts, bound = column_generation(reduced, Budget(steps=40_000))
    assert_valid(reduced, layouts)
    assert not layouts.unplaced(reduced).any()
    assert layouts.cost(reduced) >= best - 1e-6
    assert bound <= best * (1 + 1e-9)
    assert lower_bound(reduced, 0.1) <= best * (1 + 1e-9)


@settings(max_examples=20, deadline=None)
@given(small_problems(most_items=4, most_copies=3))
def test_limited_stock_is_kept_to(reduced):
    layouts, bound = column_generation(reduced, Budget(steps=60_000))
    assert_valid(reduced, layouts)
    if not layouts.unplaced(reduced).any():
        assert bound <= layouts.cost(reduced) * (1 + 1e-9)


def test_repeated_demand_comes_close_to_its_bound():
    items = [(37, 21, 60), (19, 44, 80), (25, 25, 90), (50, 12, 120), (33, 28, 70)]
    reduced = problem(items, [(120, 240, 30.0, -1), (100, 200, 21.5, -1)], turn=True)
    layouts, bound = column_generation(reduced, Budget(steps=200_000))
    assert_valid(reduced, layouts)
    assert not layouts.unplaced(reduced).any()
    assert bound > 0
    assert bound <= layouts.cost(reduced) <= 1.03 * bound


def test_an_incumbent_is_never_lost():
    reduced = problem([(4, 4, 3), (2, 5, 3)], [(8, 4, 5, -1), (5, 5, 3, -1)], turn=True)
    first, _ = column_generation(reduced, Budget(steps=100_000))
    again, _ = column_generation(reduced, Budget(steps=1), first)
    assert again.rank(reduced) <= first.rank(reduced)


def test_better_solutions_are_reported_in_order():
    items = [(7, 3, 9), (4, 9, 7), (5, 5, 8), (8, 2, 6)]
    reduced = problem(items, [(20, 20, 400, -1), (13, 17, 221, -1)], turn=True)
    told = []
    best, _ = column_generation(reduced, Budget(steps=60_000), report=told.append)
    assert told
    assert all(better(reduced, after, before) for before, after in pairwise(told))
    assert best.rank(reduced) == told[-1].rank(reduced)


def test_steps_repeat_exactly():
    items = [(7, 3, 9), (4, 9, 7), (5, 5, 8), (8, 2, 6)]
    reduced = problem(items, [(20, 20, 400, -1), (13, 17, 221, -1)], turn=True)
    one, other = (column_generation(reduced, Budget(steps=40_000), seed=3)[0] for _ in range(2))
    for name in ("stock", "sheet", "item", "x", "y", "turned"):
        assert (getattr(one, name) == getattr(other, name)).all()


def test_prices_settle_at_the_fractional_optimum():
    # 6 x 6 twelve times on 10 x 10 (one a sheet) and 4 x 4 twelve times: each sheet takes one 6
    # and up to three 4s around it, so twelve sheets hold all and no fewer can.
    reduced = problem([(6, 6, 12), (4, 4, 12)], [(10, 10, 7.0, -1)])
    make = Generator(reduced, Budget(steps=100_000), np.random.default_rng(0))
    prices = make.settle(reduced.demand, 100)
    assert prices.cost == pytest.approx(84.0)
    assert make.bound(prices) == pytest.approx(84.0, rel=1e-6)
    assert prices.left_out == pytest.approx(0.0)
