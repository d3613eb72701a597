"""Patterns: from layouts and back, equal ones once, those held by others left out."""

import numpy as np

from nesting.exact.patterns import Pool, layouts_of, pattern, patterns_of
from nesting.exact.pricing import boxes
from nesting.layouts import Layouts
from tests.nesting.exact.layout_checks import assert_valid, problem

PLAIN = problem([(2, 3, 4), (5, 1, 2)], [(5, 6, 30, -1), (4, 6, 24, -1)], turn=[True, False])


def sheet(counts, kind=0):
    """Items in a row; where they lie does not matter here."""
    item = np.repeat(np.arange(2), counts)
    zero = np.zeros(item.size, dtype=np.int64)
    return pattern(PLAIN, kind, item, zero, zero, np.zeros(item.size, dtype=np.bool_))


def test_layouts_and_back():
    layouts = Layouts(
        stock=np.array([0, 1]),
        sheet=np.array([1, 0, 0]),
        item=np.array([0, 0, 1]),
        x=np.array([0, 0, 0]),
        y=np.array([0, 1, 0]),
        turned=np.array([False, True, False]),
    )
    assert_valid(PLAIN, layouts)
    first, second = patterns_of(PLAIN, layouts)
    assert (first.kind, first.counts.tolist()) == (0, [1, 1])
    assert (second.kind, second.counts.tolist()) == (1, [1, 0])
    assert first.area(PLAIN) == 2 * 3 + 5 * 1
    again = layouts_of(PLAIN, [first, second])
    assert_valid(PLAIN, again)
    assert again.stock.tolist() == [0, 1]
    assert again.item.tolist() == [0, 1, 0]
    assert again.turned.tolist() == [True, False, False]


def test_copies_beyond_the_demand_are_left_out_and_empty_sheets_dropped():
    made = layouts_of(PLAIN, [sheet([3, 1]), sheet([3, 0]), sheet([2, 0])])
    # 4 of the first are wanted: 3, then 1 of 3, then none, and the third sheet is gone.
    assert np.bincount(made.item).tolist() == [4, 1]
    assert made.stock.tolist() == [0, 0]


def test_a_pool_keeps_equal_sheets_once():
    pool = Pool(PLAIN, [sheet([1, 1]), sheet([1, 1]), sheet([1, 1], kind=1)])
    assert len(pool) == 2
    assert not pool.add(sheet([1, 1]))
    assert not pool.add(sheet([0, 0]))
    assert pool.add(sheet([2, 1]))
    assert [p.counts.tolist() for p in pool.patterns()] == [[1, 1], [1, 1], [2, 1]]


def test_no_patterns():
    assert layouts_of(PLAIN, []).stock.size == 0
    assert patterns_of(PLAIN, Layouts.empty()) == []


def test_ways_to_lie():
    ways = boxes(PLAIN)
    rows = zip(ways.item, ways.width, ways.length, ways.turned, strict=True)
    assert [tuple(map(int, row)) for row in rows] == [(0, 2, 3, 0), (1, 5, 1, 0), (0, 3, 2, 1)]
