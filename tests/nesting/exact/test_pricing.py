"""The knapsack on one sheet against plain recursion, its sheets against the rules."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.exact.patterns import layouts_of
from nesting.exact.positions import normal_positions, some_positions
from nesting.exact.pricing import Grids, Knapsack, boxes
from nesting.reduce import Reduced
from tests.nesting.exact.layout_checks import assert_valid, problem, small_problems


def every_cut(reduced: Reduced, value: np.ndarray, width: int, length: int) -> float:
    """The most value by every cut at every whole number, any number of copies."""
    ways = boxes(reduced)
    rows = list(
        zip(ways.width.tolist(), ways.length.tolist(), value[ways.item].tolist(), strict=True)
    )

    @cache
    def most(w: int, h: int) -> float:
        options = [v for a, b, v in rows if a <= w and b <= h]
        options += [most(a, h) + most(w - a, h) for a in range(1, w // 2 + 1)]
        options += [most(w, b) + most(w, h - b) for b in range(1, h // 2 + 1)]
        return max(options, default=0.0)

    return most(width, length)


def values(data, reduced):
    m = reduced.demand.size
    return np.array(data.draw(st.lists(st.integers(0, 30), min_size=m, max_size=m)), dtype=float)


def complete(reduced):
    """Any number of copies: the normal positions must not stop at the demand."""
    many = np.full(reduced.demand.size, 10_000)
    return Reduced(
        reduced.item_w,
        reduced.item_l,
        many,
        reduced.turn,
        reduced.bin_w,
        reduced.bin_l,
        reduced.bin_cost,
        reduced.bin_qty,
    )


@settings(max_examples=60, deadline=None)
@given(small_problems(), st.data())
def test_without_limits_it_is_exact(reduced, data):
    reduced = complete(reduced)
    value = values(data, reduced)
    if not value.any():
        return
    ways = boxes(reduced)
    knapsack = Knapsack(reduced, ways, Grids(reduced, ways).complete(), value)
    for kind in range(reduced.bin_w.size):
        width, length = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
        best = every_cut(reduced, value, width, length)
        # An item's area counts 1e-7 of the best value per area besides.
        assert knapsack.most(kind) == pytest.approx(best, rel=1e-4, abs=1e-4)
        assert knapsack.most(kind) >= best - 1e-9
        (sheet,) = knapsack.sheets(kind)
        assert value @ sheet.counts == pytest.approx(best)
        if sheet.item.size:
            assert_valid(reduced, layouts_of(reduced, [sheet]))


@settings(max_examples=60, deadline=None)
@given(small_problems(), st.data(), st.sampled_from([0.0, 0.5]))
def test_with_limits_sheets_keep_the_rules_and_the_value_told(reduced, data, noise):
    value = values(data, reduced)
    if not value.any():
        return
    ways = boxes(reduced)
    grid = Grids(reduced, ways).grid(data.draw(st.integers(4, 30)), np.random.default_rng(0))
    knapsack = Knapsack(reduced, ways, grid, value, reduced.demand, noise, seed=5)
    for kind in range(reduced.bin_w.size):
        sheets = knapsack.sheets(kind, 4)
        assert 1 <= len(sheets) <= 4
        assert value @ sheets[0].counts == pytest.approx(knapsack.most(kind), rel=1e-4, abs=1e-4)
        for sheet in sheets:
            assert (sheet.counts <= reduced.demand).all()
            if sheet.item.size:
                assert_valid(reduced, layouts_of(reduced, [sheet]))


def test_limits_by_hand():
    # One 3 x 3 is wanted, the 3 x 6 would take two of them; limited, 3 x 2 fills up: 3 + 2 = 5.
    reduced = problem([(3, 3, 1), (3, 2, 9)], [(3, 6, 18, -1)])
    ways = boxes(reduced)
    grid = Grids(reduced, ways).complete()
    value = np.array([10.0, 1.0])
    assert Knapsack(reduced, ways, grid, value, reduced.demand).sheets(0)[0].counts.tolist() == [
        1,
        1,
    ]
    two = problem([(3, 3, 2), (3, 2, 9)], [(3, 6, 18, -1)])
    assert Knapsack(two, ways, grid, value, two.demand).sheets(0)[0].counts.tolist() == [2, 0]


@given(
    st.lists(st.tuples(st.integers(1, 12), st.integers(1, 3)), min_size=1, max_size=4),
    st.integers(1, 30),
)
def test_normal_positions_are_all_sums(rows, capacity):
    sums = {0}
    for size, copies in rows:
        sums = {s + size * n for s in sums for n in range(copies + 1)}
    sizes, copies = (np.array(column) for column in zip(*rows, strict=True))
    found = normal_positions(sizes, copies, capacity)
    assert found.tolist() == sorted(s for s in sums if s <= capacity)


def test_a_part_of_the_positions_keeps_the_ends():
    every = np.arange(0, 500, dtype=np.int64)
    rng = np.random.default_rng(1)
    sizes = np.array([120, 130], dtype=np.int64)
    some = some_positions(every, sizes, np.array([400, 499]), 20, rng)
    assert some.size == 20
    # Both ends, the sizes and what they leave: 400 - 120, 400 - 130, 499 - 120, 499 - 130.
    assert {0, 400, 499, 120, 130, 280, 270, 379, 369} <= set(some.tolist())
    assert some_positions(every, sizes, np.array([400, 499]), 500, rng) is every
