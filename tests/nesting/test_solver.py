"""Every solve passes the independent checker, whatever the problem looks like."""

import pytest
from hypothesis import given, settings

from nesting import Blank, InvalidBudgetError, Problem, Stock, solve, verify
from nesting.progress import BoundProved, Finished, Improved, PhaseStarted
from tests.strategies_nesting import problems, zero_waste

SHEET = Stock("48x96", 48 * 64, 96 * 64, 41.5)


def solved(problem, steps=300, **options):
    plan = solve(problem, steps=steps, threads=1, **options)
    verify(problem, plan)
    return plan


@given(problems())
@settings(max_examples=150, deadline=None)
def test_every_plan_passes_the_checker(problem):
    solved(problem)


def test_one_blank():
    plan = solved(Problem([Blank("A", 10, 10)], [SHEET]))
    assert plan.cost == plan.bound == 41.5
    assert plan.gap == 0.0
    assert plan.used == pytest.approx(100 / SHEET.area)


def test_all_alike_fill_sheets_and_are_grouped():
    # 16 x 24 in on 48 x 96: 3 x 4 = 12 a sheet, 30 blanks need 3 sheets
    plan = solved(Problem([Blank("A", 16 * 64, 24 * 64, qty=30)], [SHEET]))
    assert plan.cost == plan.bound == 3 * 41.5
    assert sum(count for _, count in plan.grouped()) == 3
    assert max(count for _, count in plan.grouped()) == 2


def test_needle_thin_blanks():
    # 96 strips of 1 x 20 exactly fill two sheets of 6 x 160 (8 strips long, 6 side by side)
    thin = Problem([Blank("strip", 1, 20, qty=96)], [Stock("s", 6, 160, 1.0)])
    assert solved(thin, steps=20_000).cost == 2.0


def test_exactly_full_with_kerf_and_trim():
    # usable 20 x 20 inside a trim of 3; four blanks of 9 with a kerf of 2 fill it: 9 + 2 + 9 = 20
    full = Problem([Blank("A", 9, 9, qty=4)], [Stock("s", 26, 26, 1.0)], kerf=2, trim=3)
    assert len(solved(full).sheets) == 1
    # a unit less and only two (side by side there is no room, nor above) of four fit a sheet
    tight = Problem([Blank("A", 9, 9, qty=4)], [Stock("s", 25, 26, 1.0)], kerf=2, trim=3)
    assert len(solved(tight).sheets) == 2


def test_what_fits_nowhere_is_listed_with_a_reason():
    problem = Problem([Blank("big", 5000, 100, turn=False), Blank("A", 10, 10)], [SHEET])
    plan = solved(problem)
    assert [(e.blank.name, e.qty) for e in plan.unplaced] == [("big", 1)]
    assert "larger than every stock" in plan.unplaced[0].reason
    assert "may not be turned" in plan.unplaced[0].reason


def test_nothing_fits():
    plan = solved(Problem([Blank("big", 9999, 9999, qty=3)], [SHEET]))
    assert plan.sheets == ()
    assert plan.cost == plan.bound == plan.used == plan.gap == 0.0
    assert plan.unplaced[0].qty == 3


def test_no_stock_left():
    plan = solved(Problem([Blank("A", 10, 10, qty=2)], [Stock("s", 20, 20, 1.0, qty=0)]))
    assert plan.unplaced[0].reason == "there is no stock at hand"


def test_limited_stock_says_what_is_missing():
    # two sheets of 10 x 10 take 4 each of 5 x 5: 8 of 11
    plan = solved(Problem([Blank("A", 5, 5, qty=11)], [Stock("s", 10, 10, 1.0, qty=2)]))
    assert plan.unplaced[0].qty == 3
    assert "used up" in plan.unplaced[0].reason
    assert plan.bound == plan.cost == 2.0


def test_the_cheaper_stock_is_chosen():
    # 4 of 10 x 10: one 20 x 20 for 5, or four 10 x 10 for 1 each
    blanks = [Blank("A", 10, 10, qty=4)]
    big, small = Stock("big", 20, 20, 5.0), Stock("small", 10, 10, 1.0)
    assert solved(Problem(blanks, [big, small])).cost == 4.0
    assert solved(Problem(blanks, [small, big])).cost == 4.0
    assert solved(Problem(blanks, [Stock("big", 20, 20, 3.0), small])).cost == 3.0


def test_steps_repeat_exactly():
    problem = zero_waste(3, 5, 20)
    plans = [solve(problem, steps=5_000, threads=1, seed=7) for _ in range(2)]
    assert plans[0] == plans[1]


def test_negative_limits_are_refused():
    problem = Problem([Blank("A", 1, 1)], [SHEET])
    with pytest.raises(InvalidBudgetError):
        solve(problem, seconds=-1)
    with pytest.raises(InvalidBudgetError):
        solve(problem, steps=-1)


def test_progress_is_told_in_typed_events():
    events = []
    plan = solve(zero_waste(5, 3, 20), steps=500, threads=1, progress=events.append)
    assert isinstance(events[-1], Finished)
    assert events[-1].cost == plan.cost
    assert [e.bound for e in events if isinstance(e, BoundProved)] == [30.0]
    assert {e.phase for e in events if isinstance(e, PhaseStarted)} >= {"build", "search"}
    costs = [e.cost for e in events if isinstance(e, Improved)]
    assert costs == sorted(costs, reverse=True)
    assert costs


@pytest.mark.parametrize("moment", [BoundProved, PhaseStarted, Improved])
def test_an_interrupt_gives_the_best_plan_so_far(moment):
    def interrupt(event):
        if isinstance(event, moment):
            raise KeyboardInterrupt

    problem = zero_waste(11, 6, 25)
    plan = solve(problem, seconds=30.0, threads=2, progress=interrupt)
    verify(problem, plan)
    assert not plan.unplaced
