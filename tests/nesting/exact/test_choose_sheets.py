"""The covering master: optimal over its pool, within stock, never worse than the incumbent."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.exact.choose_sheets import choose_sheets, whole_costs
from nesting.exact.generator import singles
from nesting.exact.patterns import layouts_of, pattern
from nesting.exact.pricing import boxes
from tests.nesting.exact.layout_checks import assert_valid, problem

SQUARES = problem([(2, 2, 5), (3, 3, 2)], [(5, 5, 10, -1), (3, 3, 4, 3)])


def row(kind, counts):
    """Squares side by side along the sheet's diagonal: apart and cuttable."""
    item = np.repeat(np.arange(2), counts)
    sides = SQUARES.item_w[item]
    at = np.concatenate([[0], np.cumsum(sides)[:-1]]).astype(np.int64)
    return pattern(SQUARES, kind, item, at, at, np.zeros(item.size, dtype=np.bool_))


def test_the_cheapest_mix_by_hand():
    # Wanted: five 2s, two 3s. A sheet of 10 takes 2 + 3; one of 4 (three at hand) takes a 2 or a 3.
    # Two sheets of 10 (2 + 3 each) and three of 4 (a 2 each): 20 + 12 = 32.
    pool = [row(0, [1, 1]), row(0, [2, 0]), row(1, [1, 0]), row(1, [0, 1])]
    found = choose_sheets(SQUARES, pool, 10.0)
    assert found is not None
    assert_valid(SQUARES, found)
    assert not found.unplaced(SQUARES).any()
    # 2 2 | 2 2 | 2 on sheets of 10 + 4 and both 3s on 4 each would be 20 + 12 as well.
    assert found.cost(SQUARES) == 32


def test_only_better_than_the_incumbent():
    pool = [row(0, [1, 1]), row(0, [2, 0]), row(1, [1, 0]), row(1, [0, 1])]
    best = choose_sheets(SQUARES, pool, 10.0)
    assert choose_sheets(SQUARES, pool, 10.0, best) is None
    worse = layouts_of(SQUARES, [row(0, [1, 1])] * 2 + [row(0, [1, 0])] * 3)
    found = choose_sheets(SQUARES, pool, 10.0, worse)
    assert found is not None
    assert found.cost(SQUARES) == 32 < worse.cost(SQUARES)


def test_least_missing_area_first_when_stock_runs_out():
    short = problem([(2, 2, 5), (3, 3, 2)], [(3, 3, 4, 3)])
    pool = [row(0, [1, 0]), row(0, [0, 1])]
    found = choose_sheets(short, pool, 10.0)
    assert found is not None
    # Both 3s and one 2: four 2s are missing.
    assert found.unplaced(short).tolist() == [4, 0]


def test_nothing_to_choose_from():
    assert choose_sheets(SQUARES, [], 1.0) is None


POOLS = st.lists(
    st.tuples(st.integers(0, 1), st.integers(0, 3), st.integers(0, 2)), min_size=1, max_size=5
)


@settings(max_examples=40, deadline=None)
@given(POOLS)
def test_as_good_as_trying_all(rows):
    pool = [row(kind, [a, b]) for kind, a, b in rows if a + b]
    lone = singles(SQUARES, boxes(SQUARES))
    found = choose_sheets(SQUARES, [*pool, *lone], 10.0)
    best = math.inf
    options = [(p.kind, p.counts) for p in [*pool, *lone]]
    for size in range(1, 8):
        for mix in itertools.combinations_with_replacement(options, size):
            small = sum(kind == 1 for kind, _ in mix)
            if small <= 3 and (sum(c for _, c in mix) >= SQUARES.demand).all():
                best = min(best, sum(float(SQUARES.bin_cost[kind]) for kind, _ in mix))
    assert found is not None
    if found.unplaced(SQUARES).any():
        assert best == math.inf
    else:
        assert found.cost(SQUARES) == best


def test_costs_become_whole_numbers():
    assert whole_costs(np.array([41.5, 83.0])).tolist() == [1, 2]
    assert whole_costs(np.array([10.05, 3.0])).tolist() == [67, 20]
    # No common unit: 1 000 000 to 318 310, to one part in a million, without the common 10.
    assert whole_costs(np.array([math.pi, 1.0])).tolist() == [100_000, 31_831]


@pytest.mark.parametrize("steps", [0.05])
def test_a_deterministic_limit_repeats(steps):
    pool = [row(0, [1, 1]), row(0, [2, 0]), row(1, [1, 0]), row(1, [0, 1])]
    one, other = (choose_sheets(SQUARES, pool, None, steps=steps) for _ in range(2))
    assert one is not None
    assert other is not None
    assert one.stock.tolist() == other.stock.tolist()
    assert one.item.tolist() == other.item.tolist()
