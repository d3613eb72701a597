"""Choices of stock: against plain enumeration."""

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nesting.stock_sets import stock_sets
from tests.nesting.improve.arrays import reduced_of

kinds = st.lists(
    st.tuples(st.integers(4, 9), st.integers(4, 9), st.integers(1, 9), st.integers(-1, 3)),
    min_size=1,
    max_size=4,
)
items = st.lists(
    st.tuples(st.integers(1, 4), st.integers(1, 4), st.integers(1, 9), st.booleans()),
    min_size=1,
    max_size=4,
)


@given(items, kinds, st.integers(0, 12), st.integers(0, 14))
def test_every_roomy_choice_between_two_costs_is_given_once(items, kinds, least, width):
    reduced = reduced_of(items, kinds)
    most = least + width
    found = stock_sets(reduced, least, most, 10**6)
    assert found is not None
    area = int((reduced.item_w * reduced.item_l * reduced.demand).sum())
    copies = [most // int(c) if q < 0 else q for _, _, c, q in kinds]
    expected = {
        counts
        for counts in product(*(range(n + 1) for n in copies))
        if least <= np.dot(counts, reduced.bin_cost) <= most
        and np.dot(counts, reduced.bin_w * reduced.bin_l) >= area
    }
    assert len(found) == len(expected)
    assert {tuple(row) for row in found.tolist()} == expected
    costs = found @ reduced.bin_cost
    assert list(costs) == sorted(costs)


def test_items_that_fit_few_kinds_must_find_room_on_those():
    # two of 9 x 9 fit the 10 x 10 only
    reduced = reduced_of([(9, 9, 2, False), (2, 2, 9, False)], [(10, 10, 100, -1), (5, 5, 25, -1)])
    found = stock_sets(reduced, 0.0, 250.0, 1000)
    assert found is not None
    assert found.tolist() == [[2, 0], [2, 1], [2, 2]]


def test_too_many_choices_are_left_alone():
    reduced = reduced_of([(4, 4, 500, False)], [(5, 5, 25, -1), (4, 5, 20, -1), (4, 4, 16, -1)])
    assert stock_sets(reduced, 0.0, 1e6, 1000) is None
