"""Free stock: it is not wasted, never makes a sheet be bought, and its bounds are proved."""

import numpy as np
import pytest

from nesting import Blank, Problem, Stock, solve, verify
from nesting.bounds.beyond_free import beyond_free
from nesting.reduce import reduce_problem
from nesting.sparing import PART, sparing

SHEET = Stock("new", 48, 96, 36.0)


def free(name: str, width: int, length: int, qty: int = 1) -> Stock:
    return Stock(name, width, length, 0.0, qty=qty, kind="offcut")


def test_free_stock_has_a_thousandth_of_the_least_price_for_its_area() -> None:
    # 36 for 48 x 96 is 1/128 a unit of area; 20 x 64 is 1280 of them: 10, of which a thousandth
    problem = Problem([Blank("a", 10, 10)], [SHEET, free("rack", 20, 64)])
    reduced = reduce_problem(problem).reduced
    assert np.allclose(sparing(reduced).bin_cost, [36.0, 10.0 * PART])
    paid = reduce_problem(Problem([Blank("a", 10, 10)], [SHEET])).reduced
    assert sparing(paid) is paid


def test_the_smallest_free_piece_that_does_is_taken() -> None:
    racks = [free("large", 48, 90, 3), free("middle", 40, 40, 3), free("small", 21, 31, 3)]
    problem = Problem([Blank("a", 20, 30, 2)], [SHEET, *racks])
    plan = solve(problem, steps=200, threads=1)
    verify(problem, plan)
    assert plan.cost == plan.bound == 0
    assert {sheet.stock.name for sheet in plan.sheets} <= {"middle", "small"}
    assert sum(sheet.area for sheet in plan.sheets) <= 40 * 40


def test_free_stock_for_the_small_blanks_lowers_the_cost_to_what_only_a_sheet_takes() -> None:
    # one 40 x 80 on a sheet leaves no room for a second nor for a 30 x 30, of which three fit one
    blanks = [Blank("large", 40, 80, 2), Blank("small", 30, 30, 4)]
    problem = Problem(blanks, [SHEET, free("rack", 31, 61, 2)])
    plan = solve(problem, steps=400, threads=1)
    verify(problem, plan)
    assert (plan.cost, plan.bound) == (72.0, 72.0)
    without = solve(Problem(blanks, [SHEET]), steps=400, threads=1)
    assert without.cost == 144.0


def test_what_no_free_piece_takes_must_be_paid_for() -> None:
    # two of 40 x 80 are 6400 of a sheet's 4608: two sheets, however much lies on the rack
    racks = [free(f"rack {n}", 39, 79) for n in range(20)]
    problem = Problem([Blank("large", 40, 80, 2), Blank("small", 9, 9, 5)], [SHEET, *racks])
    assert beyond_free(reduce_problem(problem).reduced) == 72.0
    turning = Problem([Blank("large", 79, 39, 2)], [SHEET, *racks])
    assert beyond_free(reduce_problem(turning).reduced) == 0.0
    fixed = [Blank("large", 79, 39, 2, turn=False), Blank("small", 9, 9)]
    upright = Problem(fixed, [Stock("w", 96, 48, 9.0), *racks])
    assert beyond_free(reduce_problem(upright).reduced) == 18.0


def test_offcuts_that_cost_something_are_ordinary_stock_of_limited_number() -> None:
    # 10 blanks of 24 x 48: a sheet takes four for 36, an offcut one for 8.9. Three sheets: 108; two
    # and two offcuts: 89.8; one and six offcuts would be 89.4, but there are only five
    offcut = Stock("rack", 24, 48, 8.9, qty=5, kind="offcut")
    problem = Problem([Blank("a", 24, 48, 10)], [SHEET, offcut])
    plan = solve(problem, steps=5000, threads=1)
    verify(problem, plan)
    assert plan.cost == pytest.approx(89.8)
    assert sum(sheet.stock.kind == "offcut" for sheet in plan.sheets) == 2
