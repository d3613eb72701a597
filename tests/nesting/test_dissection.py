"""Cut order, offcuts and scrap: every square unit of a sheet is accounted for."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Blank, Keep, Placement, Problem, ShearLimits, SheetLayout, Stock, solve
from nesting.cuts import Rect, cut_order, cut_tree
from nesting.dissection import dissect
from nesting.errors import NotGuillotineError
from tests.strategies_nesting import cut_up, problems


def on_sheet(rects, width, length, **rules):
    """A problem and a sheet with these blanks as they lie: (x, y, width, length)."""
    blanks = [Blank(f"b{i}", w, n, turn=False) for i, (_, _, w, n) in enumerate(rects)]
    stock = Stock("sheet", width, length, 1.0)
    placements = [
        Placement(blank, x, y, w, n, turned=False)
        for blank, (x, y, w, n) in zip(blanks, rects, strict=True)
    ]
    return Problem(blanks, [stock], **rules), SheetLayout(stock, placements)


@given(st.integers(0, 10_000), st.integers(1, 20), st.integers(0, 3))
def test_a_cut_up_sheet_comes_apart_into_its_pieces(seed, pieces, kerf):
    rng = random.Random(seed)
    tree = _random_tree(rng, Rect(0, 0, 96, 144), pieces, kerf)
    found = cut_tree(kerf, Rect(0, 0, 96, 144), tree, across=bool(seed % 2))
    assert sorted(leaf.rect for leaf in found.leaves()) == sorted(tree)
    assert [leaf.wanted is None for leaf in found.leaves()] == [False] * len(tree)
    # n pieces without scrap need n - 1 cuts, however they are nested
    cuts = cut_order(kerf, found)
    assert len(cuts) == len(tree) - 1
    assert sum(rect.area for rect in tree) + sum(cut.lost for cut in cuts) == 96 * 144


def _random_tree(rng, region, pieces, kerf):
    parts = [region]
    for _ in range(20 * pieces):
        if len(parts) == pieces:
            break
        rect = parts.pop(rng.randrange(len(parts)))
        across = rng.random() < 0.5
        low, high = rect.span(across)
        if high - low < kerf + 4:
            parts.append(rect)
            continue
        at = rng.randint(low + 2, high - kerf - 2)
        parts += [rect.between(across, low, at), rect.between(across, at + kerf, high)]
    return parts


def test_cut_up_gives_the_pieces_asked_for():
    parts = cut_up(random.Random(1), 96, 144, 10)
    assert len(parts) == 10
    assert sum(w * n for w, n in parts) == 96 * 144


@given(problems(), st.integers(1, 20), st.integers(1, 200))
@settings(max_examples=60, deadline=None)
def test_area_identity(problem, min_side, min_area):
    plan = solve(problem, steps=0, threads=1)
    kept = Problem(
        problem.blanks, problem.stock, problem.kerf, problem.trim, keep=Keep(min_side, min_area)
    )
    for sheet in plan.sheets:
        apart = dissect(kept, sheet)
        assert apart.areas.total == sheet.stock.width * sheet.drawn
        assert apart.areas.blanks == sum(p.width * p.length for p in sheet.placements)
        wanted = sorted(leaf.wanted for leaf in apart.tree.leaves() if leaf.wanted is not None)
        assert wanted[: len(sheet.placements)] == list(range(len(sheet.placements)))
        assert all(kept.keep.worth(r.width, r.length) for r in apart.offcuts)
        assert not any(kept.keep.worth(r.width, r.length) for r in apart.scrap)
        assert [cut.number for cut in apart.cuts] == list(range(1, len(apart.cuts) + 1))


def test_cut_order_of_a_small_sheet():
    # 48 x 96: two 20 x 30 side by side at the bottom, one 48 x 50 above them, 16 left at the end.
    # Across: 30, 50 (and 16 stays). Then the first strip along: 20, 20 (and 8 x 30 stays).
    problem, sheet = on_sheet(
        [(0, 0, 20, 30), (20, 0, 20, 30), (0, 30, 48, 50)], 48, 96, keep=Keep(min_side=10)
    )
    apart = dissect(problem, sheet)
    rows = [(c.piece, c.across, c.gauge, c.length, c.frees, c.held) for c in apart.cuts]
    assert rows == [
        ("sheet", True, 30, 48, "1", 66),
        ("sheet", True, 50, 48, "2", 16),
        ("1", False, 20, 30, "1.1", 28),
        ("1", False, 20, 30, "1.2", 8),
    ]
    assert apart.offcuts == (Rect(0, 80, 48, 16),)
    assert apart.scrap == (Rect(40, 0, 8, 30),)
    assert apart.settings == 3
    assert apart.tree.stages() == 2


def test_the_largest_offcut_is_kept_whole():
    # one 20 x 30 in the corner of 48 x 96: across first leaves 48 x 66 = 3168, along first leaves
    # 28 x 96 = 2688; the smaller piece beside it is 28 x 30
    problem, sheet = on_sheet([(0, 0, 20, 30)], 48, 96)
    assert dissect(problem, sheet).offcuts == (Rect(0, 30, 48, 66), Rect(20, 0, 28, 30))
    # in 96 x 48 the other way round: along first leaves 76 x 48
    problem, sheet = on_sheet([(0, 0, 20, 30)], 96, 48)
    assert dissect(problem, sheet).offcuts[0] == Rect(20, 0, 76, 48)


def test_leftovers_of_neighbours_are_merged():
    # three columns all 60 long leave 96 - 60 = 36 at the end: one piece, not three
    problem, sheet = on_sheet([(x, 0, 16, 60) for x in (0, 16, 32)], 48, 96)
    assert dissect(problem, sheet).offcuts == (Rect(0, 60, 48, 36),)


def test_kerf_is_lost_metal_and_a_sliver_is_no_offcut():
    # 10 x 10 with kerf 2: a 9 x 5 leaves a sliver of 1 beside it, all of it chips
    problem, sheet = on_sheet([(0, 0, 9, 5)], 10, 10, kerf=2)
    apart = dissect(problem, sheet)
    # across at 5: 10 * 2 lost, then 1 * 5 lost; 10 x 3 is left
    assert apart.areas.kerf == 10 * 2 + 1 * 5
    assert apart.offcuts == (Rect(0, 7, 10, 3),)
    assert apart.areas.total == 100


def test_a_gap_between_one_and_two_kerfs_is_lost_in_two_cuts():
    problem, sheet = on_sheet([(0, 0, 10, 3), (0, 6, 10, 4)], 10, 10, kerf=2)
    apart = dissect(problem, sheet)
    assert [cut.lost for cut in apart.cuts] == [10 * 2, 10 * 1]
    assert apart.areas.total == 100


def test_trim_is_counted():
    problem, sheet = on_sheet([(2, 2, 6, 6)], 10, 10, trim=2)
    apart = dissect(problem, sheet)
    assert apart.areas.trim == 100 - 36
    assert apart.cuts == ()


def test_the_hold_down_keeps_the_largest_strip():
    # strips of 30, 60 and 6 on the way: with a hold-down of 20 the 60 must be the last to lie under
    rects = [(0, 0, 48, 30), (0, 30, 48, 60), (0, 90, 48, 6)]
    problem, sheet = on_sheet(rects, 48, 96, shear=ShearLimits(min_strip=20))
    assert [(c.gauge, c.held) for c in dissect(problem, sheet).cuts] == [(30, 66), (6, 60)]


def test_what_can_not_be_cut_is_refused():
    spots = [(0, 0, 3, 2), (3, 0, 2, 3), (2, 3, 3, 2), (0, 2, 2, 3)]
    problem, sheet = on_sheet(spots, 5, 5)
    with pytest.raises(NotGuillotineError, match="3 x 2 at 0, 0"):
        dissect(problem, sheet)
