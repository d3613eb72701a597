"""Limits of the shear over every kind of stock: the engine and the checker mean the same."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import (
    Blank,
    Placement,
    Plan,
    Problem,
    ShearLimits,
    SheetLayout,
    Stock,
    solve,
    verify,
)
from tests.strategies_nesting import cut_up, sizes


def solved(problem, steps=5, **options):
    plan = solve(problem, steps=steps, threads=1, **options)
    verify(problem, plan)
    return plan


def test_the_cut_that_parts_a_piece_from_a_coil_is_the_first_across():
    coil = Stock("coil", 17, 86, 1.0, kind="coil")
    plan = solved(Problem([Blank("A", 11, 7)], [coil], shear=ShearLimits(first_across=True)))
    assert plan.sheets[0].drawn == 7
    # of a sheet of that size the blank needs a first cut along, so it can't be had
    piece = Stock("sheet", 17, 7, 1.0)
    upright = Blank("A", 11, 7, turn=False)
    plan = solved(Problem([upright], [piece], shear=ShearLimits(first_across=True)))
    assert plan.unplaced[0].blank == upright


def test_parting_a_piece_from_a_coil_is_no_stage():
    stock = [Stock("coil", 6358, 1151, 1e-6, kind="coil"), Stock("sheet", 650, 7799, 1e-6)]
    plan = solved(Problem([Blank("A", 3, 3)], stock, shear=ShearLimits(stages=1)))
    assert not plan.unplaced


def test_stock_that_costs_less_does_not_stand_in_where_the_shear_is_too_short():
    # the sheet costs nothing, yet any cut through it is 4 long
    stock = [Stock("coil", 3, 5, 1.0, kind="coil"), Stock("sheet", 4, 4, 0.0)]
    plan = solved(Problem([Blank("A", 1, 1)], stock, shear=ShearLimits(max_cut=3)))
    assert [sheet.stock.name for sheet in plan.sheets] == ["coil"]


def test_scrap_between_blanks_may_lie_under_the_hold_down():
    blank = Blank("A", 3, 5, qty=2, turn=False)
    stock = Stock("s", 16, 5, 1.0)
    spots = [Placement(blank, x, 0, 3, 5, turned=False) for x in (0, 13)]
    plan = Plan((SheetLayout(stock, spots),), cost=1.0, bound=0.0)
    verify(Problem([blank], [stock], shear=ShearLimits(min_strip=10)), plan)


@st.composite
def metal(draw):
    one = st.tuples(
        st.integers(3, 120),
        st.integers(3, 120),
        st.sampled_from([0.0, 1e-6, 1.0, 7.5]),
        st.none() | st.integers(0, 3),
        st.sampled_from(["coil", "coil", "sheet", "offcut"]),
    )
    rows = draw(st.lists(one, min_size=1, max_size=3))
    return [Stock(f"s{place}", *row) for place, row in enumerate(rows)]


ANY_LIMITS = st.builds(
    ShearLimits,
    stages=st.none() | st.integers(1, 4),
    first_across=st.booleans(),
    min_strip=st.sampled_from([0, 0, 3, 6, 20]),
    max_cut=st.none() | st.integers(3, 120),
)


@given(
    sizes((1, 40), (1, 60), kinds=8),
    metal(),
    ANY_LIMITS,
    st.sampled_from([(0, 0), (1, 0), (1, 2), (3, 1)]),
)
@settings(max_examples=40, deadline=None)
def test_any_limits_over_any_stock(blanks, stock, shear, rules):
    kerf, trim = rules
    solved(Problem(blanks, stock, kerf=kerf, trim=trim, shear=shear))


@pytest.mark.parametrize(
    "shear",
    [ShearLimits(max_cut=96), ShearLimits(first_across=True), ShearLimits(max_cut=96, min_strip=3)],
    ids=str,
)
@pytest.mark.parametrize("seed", range(3))
def test_sheets_longer_than_the_shear_are_filled(shear, seed):
    # each sheet takes two halves of 60 x 60, cut up at random, and is a little longer and wider
    rng = random.Random(seed)
    halves = [piece for _ in range(4) for piece in cut_up(rng, 60, 60, 5)]
    blanks = [Blank(f"b{place}", *size) for place, size in enumerate(halves)]
    problem = Problem(blanks, [Stock("62x124", 62, 124, 70.0)], shear=shear)
    assert solved(problem, steps=150_000).cost == 140.0


def test_what_no_shear_of_that_length_cuts_is_told_with_the_side():
    stock = [Stock("60x120", 60, 120, 70.0), Stock("coil", 48, 144, 50.0, kind="coil")]
    problem = Problem(
        [Blank("long", 20, 110), Blank("full", 60, 110), Blank("A", 20, 90)],
        stock,
        shear=ShearLimits(max_cut=96),
    )
    plan = solved(problem)
    assert [entry.blank.name for entry in plan.unplaced] == ["long"]
    assert "side of 110 is beyond the shear's longest cut of 96" in plan.unplaced[0].reason


def test_a_blank_that_other_limits_rule_out_is_told_with_them():
    problem = Problem(
        [Blank("A", 4, 4)], [Stock("s", 10, 10, 1.0)], shear=ShearLimits(min_strip=7, stages=2)
    )
    plan = solved(problem)
    assert "hold-down 7, cuts in 2 stages" in plan.unplaced[0].reason
