"""The knapsack on the lattice against plain recursion, and what is told of too fine a grid."""

from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.budget import Budget
from nesting.exact.lattice import Lattice
from nesting.exact.patterns import layouts_of
from nesting.exact.pricing import Knapsack, boxes
from nesting.exact.rough import Rough, ever_finer
from nesting.exact.worth import Worth
from nesting.reduce import Reduced
from tests.nesting.exact.layout_checks import assert_valid, problem, small_problems
from tests.nesting.exact.test_pricing import complete, every_cut, values


@settings(max_examples=60, deadline=None)
@given(small_problems(), st.data())
def test_it_is_exact(reduced, data):
    reduced = complete(reduced)
    value = values(data, reduced)
    lattice = Lattice(reduced, boxes(reduced), value)
    for kind in range(reduced.bin_w.size):
        best = every_cut(reduced, value, int(reduced.bin_w[kind]), int(reduced.bin_l[kind]))
        assert lattice.most(kind) == pytest.approx(best, rel=1e-4)
        assert lattice.most(kind) >= best
        sheets = lattice.sheets(kind, 5)
        assert value @ sheets[0].counts == pytest.approx(best)
        for sheet in sheets:
            if sheet.item.size:
                assert_valid(reduced, layouts_of(reduced, [sheet]))


def finer(reduced: Reduced, times: int) -> Reduced:
    """The same problem in finer units, each item a little larger than before."""
    return Reduced(
        reduced.item_w * times + 1,
        reduced.item_l * times + 1,
        reduced.demand,
        reduced.turn,
        (reduced.bin_w + 1) * times,
        (reduced.bin_l + 1) * times,
        reduced.bin_cost,
        reduced.bin_qty,
    )


@settings(max_examples=60, deadline=None)
@given(small_problems(), st.data(), st.sampled_from([2, 3, 8]))
def test_what_is_found_on_a_rough_lattice_fits(reduced, data, step):
    reduced = finer(complete(reduced), 8)
    value = values(data, reduced)
    lattice = Rough(reduced, step).run(value, Budget(steps=100))
    exact = Lattice(reduced, boxes(reduced), value)
    for kind in range(reduced.bin_w.size):
        assert lattice.most(kind) <= exact.most(kind)
        for sheet in lattice.sheets(kind, 5):
            assert value @ sheet.counts <= exact.most(kind)
            if sheet.item.size:
                assert_valid(reduced, layouts_of(reduced, [sheet]))


def test_on_a_rough_lattice_sheets_of_even_sizes_are_the_best():
    reduced = problem([(300, 500, 9), (400, 200, 9)], [(1000, 1000, 1, -1)], turn=True)
    value, ways = np.array([15.0, 8.5]), boxes(reduced)
    best = Rough(reduced, 50).run(value, Budget(steps=100)).sheets(0, 1)[0]
    exact = Lattice(reduced, ways, value)
    assert value @ best.counts == pytest.approx(exact.most(0), rel=1e-4)
    assert set((best.x % 50).tolist() + (best.y % 50).tolist()) == {0}
    assert best.x.max() >= 300


def test_a_run_that_is_stopped_proves_nothing_and_gives_no_sheets():
    reduced = problem([(300, 500, 9), (400, 200, 9)], [(1000, 1000, 1, -1)], turn=True)
    asked = iter([False, False, True])
    stopped = Lattice(reduced, boxes(reduced), np.array([15.0, 8.5]), spent=lambda: next(asked))
    assert stopped.most(0) == np.inf
    assert stopped.sheets(0, 5) == []


def test_rough_lattices_begin_where_a_run_is_easy():
    sides = [700, 911, 1203, 1511, 1777, 2005]
    items = [(w, n, 500) for w, n in zip(sides, reversed(sides), strict=True)]
    reduced = problem(items, [(3072, 6144, 1, -1)], turn=True)
    rough = list(ever_finer(reduced))
    assert rough[0].easy
    assert not any(one.easy for one in rough[1:])
    assert rough[-1].affordable(Budget(steps=10**6))
    assert not rough[-1].affordable(Budget(steps=1))
    assert not rough[-1].affordable(Budget(seconds=0))


@settings(max_examples=30, deadline=None)
@given(small_problems(), st.data())
def test_rounding_never_underrates(reduced, data):
    reduced = finer(complete(reduced), 8)
    value = values(data, reduced)
    if not value.any():
        return
    exact = Lattice(reduced, boxes(reduced), value)
    lattice_only = patch("nesting.exact.worth.POSITIONS_STEPS", 0)
    with lattice_only:
        worth = Worth(reduced, Budget(steps=1))
    assert worth.known
    for kind in range(reduced.bin_w.size):
        assert worth.run(value).most(kind) >= exact.most(kind) * (1 - 1e-4)


def test_the_lesser_work_is_chosen():
    few = problem([(700, 1100, 9), (900, 500, 9)], [(4000, 8000, 1, -1)])
    worth = Worth(few, Budget(steps=10**9))
    assert worth.exact
    assert isinstance(worth.run(np.ones(2)), Knapsack)
    rng = np.random.default_rng(0)
    sizes = [(int(w), int(n), 99) for w, n in rng.integers(150, 700, (40, 2))]
    many = problem(sizes, [(1536, 3072, 1, -1)])
    assert isinstance(Worth(many, Budget(steps=10**9)).run(np.ones(40)), Lattice)
    little = Worth(many, Budget(steps=10))
    assert little.known
    assert not little.exact


def test_a_grid_that_no_rounding_helps():
    rng = np.random.default_rng(0)
    sizes = [(3, int(n), 99) for n in rng.integers(15_000, 70_000, 40)]
    thin = problem(sizes, [(153_600, 307_200, 1, -1)])
    assert not Worth(thin, Budget(steps=10)).known
