"""Jobs of many equal blanks: whole layouts repeat, and the cost comes close to the bound."""

import random

import numpy as np
import pytest

from nesting import Blank, Problem, Stock, solve, verify
from nesting.reduce import reduce_problem
from nesting.repeats import repeated

SHEETS = [Stock("48x96", 48, 96, 41.5), Stock("48x120", 48, 120, 51.9)]


def job(kinds, copies, stock):
    rng = random.Random(4)
    return Problem(
        [Blank(f"b{i}", rng.randint(5, 40), rng.randint(6, 60), copies) for i in range(kinds)],
        stock,
    )


def test_where_blanks_repeat():
    assert repeated(reduce_problem(job(6, 20, SHEETS)).reduced)
    assert not repeated(reduce_problem(job(6, 2, SHEETS)).reduced)
    assert not repeated(reduce_problem(Problem([Blank("A", 99, 99, 50)], SHEETS)).reduced)


@pytest.mark.parametrize("limit", [None, 60])
def test_the_gap_is_small_and_layouts_repeat(limit):
    stock = [Stock("48x96", 48, 96, 41.5, qty=limit), SHEETS[1]]
    problem = job(12, 60, stock)
    plan = solve(problem, steps=400_000, threads=1)
    verify(problem, plan)
    assert not plan.unplaced
    assert plan.gap < 0.03
    assert len(plan.grouped()) < len(plan.sheets) / 2


def test_the_proof_is_as_good_on_a_fine_grid():
    # in 1/32 in, sizes of no common measure
    rng = random.Random(4)
    blanks = [Blank(f"b{i}", rng.randint(160, 1280), rng.randint(192, 1920), 60) for i in range(20)]
    sheets = [Stock(s.name, 32 * s.width, 32 * s.length, s.cost) for s in SHEETS]
    problem = Problem(blanks, sheets)
    plan = solve(problem, steps=400_000, threads=1)
    verify(problem, plan)
    assert plan.gap < 0.01


def test_steps_repeat_exactly():
    problem = job(5, 12, SHEETS)
    plans = [solve(problem, steps=50_000, threads=1) for _ in range(2)]
    assert plans[0] == plans[1]


def test_scarce_stock_says_what_is_missing():
    problem = job(5, 30, [Stock("48x96", 48, 96, 41.5, qty=10)])
    plan = solve(problem, steps=50_000, threads=1)
    verify(problem, plan)
    placed = sum(len(sheet.placements) for sheet in plan.sheets)
    assert placed + sum(entry.qty for entry in plan.unplaced) == 150
    assert len(plan.sheets) == 10
    assert np.isfinite(plan.bound)
