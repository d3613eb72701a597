"""The referee itself: rooms by hand, guillotine against no overlap, costs by hand."""

import math

import numpy as np
from hypothesis import given, settings

from nesting.exact.one_sheet import fits, least_cost, smallest_rooms, whole_costs
from tests.nesting.exact.layout_checks import problem, small_problems

PINWHEEL = [(3, 1, False), (1, 3, False), (3, 1, False), (1, 3, False), (2, 2, False)]
"""Four bars around a square fill 4 x 4, but no cut goes through."""


def test_a_pinwheel_fits_but_not_by_guillotine_cuts():
    assert fits(PINWHEEL, 4, 4, 10.0) is True
    reduced = problem([(3, 1, 2), (1, 3, 2), (2, 2, 1)], [(4, 4, 16, -1)])
    assert (2, 2, 1) not in smallest_rooms(reduced)
    assert least_cost(reduced, 10.0) == 32


def test_too_much_does_not_fit():
    assert fits([(3, 2, True)] * 3, 5, 4, 10.0) is True
    assert fits([(3, 3, True)] * 2, 5, 5, 10.0) is False
    assert fits([(1, 6, False)], 6, 5, 10.0) is False
    assert fits([(1, 6, True)], 6, 5, 10.0) is True


def test_rooms_by_hand():
    # 2 x 3 twice, upright: side by side 4 x 3, end to end 2 x 6.
    two = problem([(2, 3, 2)], [(10, 10, 1, -1)])
    assert smallest_rooms(two)[(2,)] == [(2, 6), (4, 3)]
    # Turned as well: 3 x 4 (both lying), 6 x 2; one upright and one lying is never smaller.
    two = problem([(2, 3, 2)], [(10, 10, 1, -1)], turn=True)
    assert smallest_rooms(two)[(2,)] == [(2, 6), (3, 4), (4, 3), (6, 2)]


def test_cost_by_hand():
    # Three 4 x 4: two on 8 x 4 for 5, one on 4 x 4 for 3. Of the small stock alone: 9.
    reduced = problem([(4, 4, 3)], [(8, 4, 5, -1), (4, 4, 3, -1)])
    assert least_cost(reduced, 10.0) == 8
    assert least_cost(problem([(4, 4, 3)], [(8, 4, 5, 1), (4, 4, 3, -1)]), 10.0) == 8
    assert least_cost(problem([(4, 4, 3)], [(8, 4, 5, 1)]), 10.0) == math.inf


@settings(max_examples=30, deadline=None)
@given(small_problems(most_items=3, most_copies=2))
def test_what_is_cut_by_guillotine_fits(reduced):
    rooms = smallest_rooms(reduced)
    counts = max(rooms, key=sum)
    items = [
        (int(reduced.item_w[i]), int(reduced.item_l[i]), bool(reduced.turn[i]))
        for i, n in enumerate(counts)
        for _ in range(n)
    ]
    for width, length in rooms[counts]:
        assert fits(items, width, length, 10.0) is True


def test_costs_become_whole_numbers():
    assert whole_costs(np.array([41.5, 83.0])).tolist() == [1, 2]
    assert whole_costs(np.array([10.05, 3.0])).tolist() == [67, 20]
    # No common unit: 1 000 000 to 318 310, to one part in a million, without the common 10.
    assert whole_costs(np.array([math.pi, 1.0])).tolist() == [100_000, 31_831]
