"""Limits of the shear over every kind of stock: the engine and the checker mean the same."""

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
from tests.strategies_nesting import sizes


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
