"""The covering knapsack against trying every choice of stock."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.bounds.area import area_bound, area_by_cost, fractional_cover, units
from nesting.reduce import Reduced


def stock_only(area, kinds):
    """A problem whose items have this area in all: `area` squares of 1 x 1."""
    sizes, costs, copies = zip(*kinds, strict=True)
    return Reduced(
        item_w=np.array([1], dtype=np.int64),
        item_l=np.array([1], dtype=np.int64),
        demand=np.array([area], dtype=np.int64),
        turn=np.array([False]),
        bin_w=np.array(sizes, dtype=np.int64),
        bin_l=np.ones(len(sizes), dtype=np.int64),
        bin_cost=np.array(costs, dtype=np.float64),
        bin_qty=np.array(copies, dtype=np.int64),
    )


def by_trying_all(area, kinds, at_least):
    """Cheapest cover, by every number of copies that can be of use."""
    most = [n if n >= 0 else max(-(-area // a), math.ceil(at_least / c)) for a, c, n in kinds]
    found = math.inf
    for chosen in itertools.product(*(range(n + 1) for n in most)):
        cost = sum(n * k[1] for n, k in zip(chosen, kinds, strict=True))
        if cost >= at_least and sum(n * k[0] for n, k in zip(chosen, kinds, strict=True)) >= area:
            found = min(found, cost)
    return found


KIND = st.tuples(st.integers(3, 20), st.integers(1, 30), st.integers(-1, 3))


@settings(deadline=None)
@given(st.integers(1, 60), st.lists(KIND, min_size=1, max_size=3), st.integers(0, 60))
def test_as_trying_all(area, kinds, at_least):
    assert area_bound(stock_only(area, kinds), at_least) == by_trying_all(area, kinds, at_least)


@settings(deadline=None)
@given(st.integers(1, 60), st.lists(KIND, min_size=1, max_size=3), st.sampled_from([100, 10_000]))
def test_costs_in_fractions_scale(area, kinds, per_unit):
    whole = area_bound(stock_only(area, kinds))
    fine = area_bound(stock_only(area, [(a, c / per_unit, n) for a, c, n in kinds]))
    assert fine == pytest.approx(whole / per_unit) or fine == whole == math.inf


def test_by_hand():
    # 17 of area from 5 for 5 and 7 for 7: 5 + 5 + 7 = 17 exactly; with one 5 at hand, 5 + 7 + 7.
    assert area_bound(stock_only(17, [(5, 5, -1), (7, 7, -1)])) == 17
    assert area_bound(stock_only(17, [(5, 5, 1), (7, 7, -1)])) == 19
    # Reachable costs above 18 are 19 (5 + 7 + 7), the first with enough area.
    assert area_bound(stock_only(17, [(5, 5, -1), (7, 7, -1)]), at_least=17.5) == 19


def test_free_offcuts_count_first():
    # 4 of the 10 come free from the rack, 6 need two sheets of 5 for 3 each.
    assert area_bound(stock_only(10, [(4, 0, 1), (5, 3, -1)])) == 6
    assert area_bound(stock_only(4, [(4, 0, 1), (5, 3, -1)])) == 0


def test_too_little_stock_is_said():
    assert area_bound(stock_only(11, [(5, 5, 2)])) == math.inf


def test_costs_without_a_common_unit_fall_back_to_parts_of_sheets():
    kinds = [(5, math.pi, -1), (7, 10.0, -1)]
    assert units(np.array([math.pi, 10.0])) is None
    assert area_bound(stock_only(12, kinds)) == pytest.approx(12 / 5 * math.pi)


def test_fractional_cover_takes_the_cheapest_area_first():
    areas, costs = np.array([10, 10]), np.array([4.0, 3.0])
    # 10 at 3, then 5 of 10 at 4.
    assert fractional_cover(areas, costs, np.array([9, 1]), 15) == pytest.approx(5.0)


def test_the_table_by_hand():
    # One piece of area 3 for 2, two of area 4 for 3.
    table = area_by_cost(np.array([3, 4]), np.array([2, 3]), np.array([1, 2]), 8)
    assert table.tolist() == [0, -1, 3, 4, -1, 7, 8, -1, 11]
