"""What a shop asks beyond the least cost: rack, coil, fillers, a large offcut, shear limits."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Blank, Keep, Problem, ShearLimits, Stock, solve, verify
from nesting.coils import least_length
from nesting.dissection import dissect
from tests.strategies_nesting import sizes

SHEET = Stock("sheet", 48, 96, 40.0)


def solved(problem, steps=30_000, **options):
    plan = solve(problem, steps=steps, threads=1, **options)
    verify(problem, plan)
    return plan


def goal(plan, name):
    return next(g.reached for g in plan.goals if g.name == name)


# ---- rack


def test_an_offcut_from_the_rack_saves_a_sheet():
    rack = Stock("rack", 20, 40, 0.0, qty=1, kind="offcut")
    plan = solved(Problem([Blank("A", 20, 30)], [SHEET, rack]))
    assert [sheet.stock.name for sheet in plan.sheets] == ["rack"]
    assert plan.cost == 0.0


def test_the_rack_is_used_first_where_a_sheet_is_needed_anyhow():
    rack = Stock("rack", 20, 40, 0.0, qty=2, kind="offcut")
    plan = solved(Problem([Blank("big", 48, 60), Blank("A", 20, 30)], [SHEET, rack]))
    assert sorted(sheet.stock.name for sheet in plan.sheets) == ["rack", "sheet"]
    assert plan.cost == 40.0
    assert goal(plan, "most blanks cut from the rack") == 20 * 30
    # so the sheet keeps its whole end: 48 x 36
    assert goal(plan, "largest single offcut") == 48 * 36


def test_no_sheet_is_opened_for_the_rack():
    # A sheet takes four 24 x 48 exactly. The offcut takes one of them, yet three sheets of four are
    # no better than two of four and one on the offcut: 9 blanks = 2 sheets and the offcut
    rack = Stock("rack", 24, 50, 0.0, qty=1, kind="offcut")
    plan = solved(Problem([Blank("A", 24, 48, qty=9)], [SHEET, rack]))
    assert plan.cost == 80.0
    # 8 blanks fill two sheets; with the offcut used first the sheets stay two
    plan = solved(Problem([Blank("A", 24, 48, qty=8)], [SHEET, rack]))
    assert plan.cost == 80.0
    assert goal(plan, "most blanks cut from the rack") == 24 * 48


# ---- one large offcut


def test_the_last_sheet_is_packed_to_one_end():
    # 24 x 30, 24 x 30 and 48 x 20: 50 of length are enough, 48 x 46 stays whole
    problem = Problem([Blank("A", 24, 30, qty=2), Blank("B", 48, 20)], [SHEET])
    plan = solved(problem)
    assert goal(plan, "least cost of stock") == 40.0
    assert goal(plan, "largest single offcut") == 48 * 46
    assert [g.name for g in plan.goals] == [
        "least cost of stock",
        "most blanks cut from the rack",
        "largest single offcut",
        "fewest cuts",
        "fewest different gauge settings",
    ]


def test_the_stated_cuts_are_those_of_the_cut_order():
    problem = Problem([Blank("A", 16, 24, qty=30)], [SHEET], keep=Keep(6, 100))
    plan = solved(problem)
    ways = [dissect(problem, sheet) for sheet in plan.sheets]
    assert goal(plan, "fewest cuts") == sum(len(way.cuts) for way in ways)
    assert goal(plan, "largest single offcut") == max(
        (rect.area for way in ways for rect in way.offcuts), default=0
    )


# ---- coil


def test_a_coil_is_drawn_no_longer_than_needed():
    # 48 wide: two 24 x 30 side by side, then 48 x 20: 50 drawn of 120, 60 for the whole: 25
    coil = Stock("coil", 48, 120, 60.0, kind="coil")
    plan = solved(Problem([Blank("A", 24, 30, qty=2), Blank("B", 48, 20)], [coil]))
    assert plan.cost == pytest.approx(25.0)
    assert plan.bound == pytest.approx(25.0)
    assert sum(sheet.drawn for sheet in plan.sheets) == 50


def test_the_better_coil_width_is_chosen():
    # blanks 30 wide: on 60 two abreast without waste, on 48 only one
    coils = [Stock("48", 48, 100, 48.0, kind="coil"), Stock("60", 60, 100, 60.0, kind="coil")]
    plan = solved(Problem([Blank("A", 30, 40, qty=4, turn=False)], coils))
    assert {sheet.stock.name for sheet in plan.sheets} == {"60"}
    assert plan.cost == pytest.approx(48.0)


def test_beyond_the_cut_to_length_is_refused_with_a_reason():
    coil = Stock("coil", 48, 120, 60.0, kind="coil")
    plan = solved(Problem([Blank("long", 10, 130), Blank("A", 10, 10)], [coil]))
    assert [entry.blank.name for entry in plan.unplaced] == ["long"]
    assert "120 (longest cut)" in plan.unplaced[0].reason


def test_a_limited_coil_is_not_overdrawn():
    coil = Stock("coil", 10, 20, 1.0, qty=1, kind="coil")
    plan = solved(Problem([Blank("A", 10, 8, qty=3, turn=False)], [coil]))
    assert plan.unplaced[0].qty == 1
    assert plan.cost == pytest.approx(16 / 20)


def test_length_taken_by_a_blank_too_wide_to_share():
    assert least_length(Blank("A", 30, 70), 48) == 70  # 70 is too wide for 48, so it lies upright
    assert least_length(Blank("A", 30, 40), 48) == 30  # turned: 40 wide, 30 long
    assert least_length(Blank("A", 24, 70), 48) == 0  # two abreast
    assert least_length(Blank("A", 30, 40, turn=False), 48) == 40


@given(sizes((2, 40), (2, 60)), st.sampled_from([(0, 0), (1, 0), (1, 2)]))
@settings(max_examples=20, deadline=None)
def test_coil_plans_pass_the_checker(blanks, rules):
    kerf, trim = rules
    coils = [Stock("48", 48, 90, 48.0, kind="coil"), Stock("60", 60, 80, 63.0, kind="coil")]
    solved(Problem(blanks, coils, kerf=kerf, trim=trim), steps=2_000)


# ---- fillers


def test_fillers_take_only_scrap_and_the_most_valuable_first():
    # beside the 40 x 96 a strip of 8 x 96 is left, scrap by the rule; it takes 8 x 12 eight times
    blanks = [
        Blank("A", 40, 96),
        Blank("strap", 8, 12, qty=5, value=1.0),
        Blank("cleat", 8, 12, qty=5, value=2.0),
        Blank("cap", 20, 20, qty=1, value=99.0),
    ]
    plan = solved(Problem(blanks, [SHEET], keep=Keep(10, 100)))
    placed = [p.blank.name for sheet in plan.sheets for p in sheet.placements]
    assert placed.count("cleat") == 5
    assert placed.count("strap") == 3
    assert {(e.blank.name, e.qty) for e in plan.left_out} == {("strap", 2), ("cap", 1)}
    assert not plan.unplaced


def test_fillers_leave_an_offcut_alone():
    blanks = [Blank("A", 40, 96), Blank("strap", 8, 12, qty=5, value=1.0)]
    plan = solved(Problem(blanks, [SHEET], keep=Keep(8, 100)))
    assert goal(plan, "largest single offcut") == 8 * 96
    assert plan.left_out[0].qty == 5


def test_fillers_alone_open_no_sheet():
    plan = solved(Problem([Blank("strap", 8, 12, qty=5, value=1.0)], [SHEET]))
    assert plan.sheets == ()
    assert plan.left_out[0].qty == 5


@given(sizes((5, 40), (5, 60)), sizes((2, 9), (2, 20)), st.integers(0, 2))
@settings(max_examples=20, deadline=None)
def test_fillers_change_neither_cost_nor_offcuts(blanks, extra, kerf):
    fillers = [Blank(f"f{b.name}", b.width, b.length, b.qty, b.turn, value=1.0) for b in extra]
    keep = Keep(10, 200)
    plain = solved(Problem(blanks, [SHEET], kerf=kerf, keep=keep), steps=300)
    filled = solved(Problem([*blanks, *fillers], [SHEET], kerf=kerf, keep=keep), steps=300)
    assert filled.cost == plain.cost
    assert goal(filled, "largest single offcut") == goal(plain, "largest single offcut")


# ---- limits of the shear

LIMITS = [
    ShearLimits(first_across=True),
    ShearLimits(stages=2),
    ShearLimits(stages=3, first_across=True),
    ShearLimits(max_cut=60),
    ShearLimits(max_cut=60, first_across=True),
    ShearLimits(min_strip=6),
    ShearLimits(stages=3, min_strip=4, max_cut=60),
]


@pytest.mark.parametrize("limits", LIMITS, ids=str)
@given(blanks=sizes((4, 40), (4, 60)))
@settings(max_examples=8, deadline=None)
def test_plans_keep_the_limits(limits, blanks):
    plan = solved(Problem(blanks, [SHEET], shear=limits), steps=5)
    assert not plan.unplaced


def test_what_the_shear_can_not_cut_is_listed():
    # one stage only: nothing but full strips can be cut
    problem = Problem(
        [Blank("strip", 48, 10, turn=False), Blank("A", 20, 20)],
        [SHEET],
        shear=ShearLimits(stages=1),
    )
    plan = solved(problem, steps=5)
    assert [entry.blank.name for entry in plan.unplaced] == ["A"]
    assert "limits of the shear" in plan.unplaced[0].reason
