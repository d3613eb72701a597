"""Thousands of equal blanks on a sheet: a step limit bounds the work, and blocks stand for rows."""

import itertools
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting import Blank, Problem, ShearLimits, Stock, solve, verify
from nesting.blocks import merged
from nesting.cuts import Rect, cut_tree, groups, separable

SHEET = Stock("sheet", 480, 960, 1.0)
FREE = ShearLimits()


def boxes(rects):
    return {
        (x, y) for r in rects for x in range(r.x, r.x + r.width) for y in range(r.y, r.y + r.length)
    }


def test_a_grid_is_one_block():
    grid = [Rect(4 * i, 6 * j, 3, 5) for i in range(5) for j in range(7)]
    assert merged(1, grid) == [Rect(0, 0, 19, 41)]
    assert len(merged(0, grid)) == 35


@given(st.integers(1, 6), st.integers(1, 6), st.sets(st.integers(0, 35), max_size=12))
def test_blocks_cover_what_the_rectangles_cover(across, along, holes):
    spots = [(i, j) for i in range(across) for j in range(along)]
    rects = [Rect(3 * i, 2 * j, 3, 2) for n, (i, j) in enumerate(spots) if n not in holes]
    blocks = merged(0, rects)
    assert boxes(blocks) == boxes(rects)
    assert sum(block.area for block in blocks) == sum(rect.area for rect in rects)
    if separable(0, blocks):
        assert separable(0, rects)


@given(st.lists(st.tuples(st.integers(0, 900), st.integers(1, 9)), min_size=65, max_size=120))
def test_many_are_grouped_as_few_are(spans):
    rects = [Rect(at, 0, size, 1) for at, size in spans]
    found = groups(2, rects, across=False)
    assert sorted(place for part in found for place in part) == list(range(len(rects)))
    ends = [
        (min(rects[p].x for p in part), max(sum(rects[p][::2]) for p in part)) for part in found
    ]
    assert all(low >= high + 2 for (_, high), (low, _) in itertools.pairwise(ends))
    for part in found:
        assert len(groups(2, [rects[p] for p in part][:64], across=False)) >= 1
        reach = rects[part[0]].x
        for p in sorted(part, key=lambda p: rects[p]):
            assert rects[p].x < reach + 2 or p == part[0]
            reach = max(reach, rects[p].x + rects[p].width)


def test_a_tree_of_thousands():
    rects = [Rect(4 * i, 5 * j, 4, 5) for i in range(60) for j in range(40)]
    tree = cut_tree(0, Rect(0, 0, 250, 210), rects, across=True)
    assert sum(leaf.wanted is not None for leaf in tree.leaves()) == 2400


@pytest.mark.parametrize(
    ("blanks", "stock", "shear"),
    [
        ([Blank("A", 7, 11, qty=5000)], [SHEET], FREE),
        ([Blank("A", 3, 5, qty=2500), Blank("B", 5, 6, qty=2500)], [SHEET], FREE),
        ([Blank("A", 7, 11, qty=4000)], [Stock("coil", 480, 9600, 1.0, kind="coil")], FREE),
        ([Blank("A", 7, 11, qty=5000)], [SHEET], ShearLimits(max_cut=900, min_strip=5)),
    ],
    ids=["one size", "two sizes", "coil", "shear"],
)
def test_a_step_limit_bounds_the_time(blanks, stock, shear):
    solve(Problem([Blank("A", 1, 1)], stock), steps=1, threads=1)  # loads the kernels
    problem = Problem(blanks, stock, shear=shear)
    began = time.process_time()
    plan = solve(problem, steps=300, threads=1)
    # they took 5 to 20 s; some room for a slow machine
    assert time.process_time() - began < 15
    verify(problem, plan)
    assert not plan.unplaced
