"""Parts put in order: the same blanks and offcuts, no more cuts, fewer settings of the gauge."""

from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Blank, Keep, Placement, Plan, Problem, SheetLayout, Stock, solve, verify
from nesting.budget import Budget
from nesting.dissection import dissect
from nesting.fewer_cuts import fewer_cuts
from nesting.goals import figures_of
from nesting.layouts import Layouts
from nesting.reduce import reduce_problem
from nesting.tidy import tidied, tidy
from nesting.unfold import unfold
from tests.strategies_nesting import sizes

SHEET = Stock("sheet", 48, 96, 40.0)


def test_equal_strips_come_together_and_the_odd_one_stays_on_the_table():
    # strips of 30, 36 and 30 fill the sheet: gauged 30 and 36 before, twice 30 after
    low, high = Blank("low", 48, 30, qty=2), Blank("high", 48, 36)
    sheet = SheetLayout(
        SHEET,
        [
            Placement(low, 0, 0, 48, 30, turned=False),
            Placement(high, 0, 30, 48, 36, turned=False),
            Placement(low, 0, 66, 48, 30, turned=False),
        ],
    )
    problem = Problem([low, high], [SHEET])
    assert dissect(problem, sheet).settings == 2
    (found,) = tidy(problem, (sheet,), {})
    assert [cut.gauge for cut in dissect(problem, found).cuts] == [30, 30]
    assert [p.blank.name for p in found.placements] == ["low", "low", "high"]


@given(
    sizes((3, 40), (3, 60)),
    st.sampled_from([(0, 0), (1, 0), (2, 3)]),
    st.sampled_from([SHEET, Stock("coil", 48, 96, 40.0, kind="coil")]),
)
@settings(max_examples=40, deadline=None)
def test_the_same_blanks_and_the_goals_no_worse(blanks, rules, stock):
    problem = Problem(blanks, [stock], kerf=rules[0], trim=rules[1], keep=Keep(5, 60))
    plan = solve(problem, steps=200, threads=1)
    verify(problem, plan)
    moved = tuple(tidied(problem, sheet, dissect(problem, sheet)) for sheet in plan.sheets)
    verify(problem, Plan(moved, plan.cost, plan.bound, plan.unplaced))
    again = tidy(problem, plan.sheets, {})
    assert figures_of(problem, again, {}).order() <= figures_of(problem, plan.sheets, {}).order()


def test_a_staggered_sheet_is_laid_out_with_fewer_cuts():
    # six of 16 x 40 lie two and two and two askew; in rows of three they need no trimming
    problem = Problem([Blank("A", 16, 40, qty=6, turn=False), Blank("B", 9, 9)], [SHEET])
    reduction = reduce_problem(problem)
    spots = [(0, 0, 0), (0, 16, 3), (0, 32, 9), (0, 0, 46), (0, 16, 46), (0, 32, 52)]
    item, x, y = np.array(spots, dtype=np.int64).T
    askew = Layouts(
        np.zeros(1, dtype=np.int64),
        np.zeros(6, dtype=np.int64),
        item,
        x,
        y,
        np.zeros(6, dtype=bool),
    )

    def vary(reduced, budget, number):
        return Layouts.empty()

    found = fewer_cuts(reduction, askew, vary, Budget(steps=1000), {})
    assert Counter(found.item.tolist()) == {0: 6}
    before, after = (figures_of(problem, unfold(reduction, some), {}) for some in (askew, found))
    assert (after.cuts, after.settings) < (before.cuts, before.settings)
    assert after.largest == 48 * 16
    assert after.cuts == 6


def test_without_budget_nothing_changes():
    problem = Problem([Blank("A", 16, 40, qty=2)], [SHEET])
    reduction = reduce_problem(problem)
    two = np.zeros(2, dtype=np.int64)
    one = Layouts(two[:1], two, two, np.array([0, 20]), two, two.astype(bool))
    found = fewer_cuts(reduction, one, lambda *_: pytest.fail("asked"), Budget(steps=0), {})
    assert found.x.tolist() == [0, 20]
