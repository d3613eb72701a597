"""The engine against rectpack's best guillotine mode, on our own and on published instances."""

from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Blank, Problem, Stock, solve, verify
from nesting.baseline import rectpack_best
from tests.benchmarks.instances import FOLDER, instances
from tests.strategies_nesting import sizes, zero_waste

SETS = [
    ("one_size", True, 40),
    ("one_size", False, 60),
    ("random", False, 60),
    ("limited", False, 4),
    ("clustered", False, 80),
]


@pytest.mark.skipif(not FOLDER.is_dir(), reason=f"no published instance sets at {FOLDER}")
@pytest.mark.parametrize(("name", "turn", "every"), SETS)
def test_never_worse_than_rectpack_on_published_instances(name, turn, every):
    for instance in islice(instances(name, turn), 0, None, every):
        problem = instance.problem
        plan = solve(problem, steps=20_000, threads=1)
        verify(problem, plan)
        best = rectpack_best(problem, seconds=0.3)
        missing = sum(entry.qty for entry in plan.unplaced)
        assert missing <= best.missing
        assert missing < best.missing or plan.cost <= best.cost * (1 + 1e-9)


@given(sizes((5, 60), (5, 90)), st.integers(0, 2))
@settings(max_examples=15, deadline=None)
def test_never_worse_than_rectpack_on_ours(blanks, kerf):
    stock = [Stock("48x96", 60, 96, 41.0), Stock("60x120", 60, 120, 55.0)]
    problem = Problem(blanks, stock, kerf=kerf)
    plan = solve(problem, steps=20_000, threads=1)
    verify(problem, plan)
    assert plan.cost <= rectpack_best(problem, seconds=0.3).cost * (1 + 1e-9)


def test_the_baseline_counts_what_it_uses():
    # four 10 x 10 on 20 x 20: one sheet for 5, all of it used
    problem = Problem([Blank("A", 10, 10, qty=4)], [Stock("s", 20, 20, 5.0)])
    best = rectpack_best(problem)
    assert (best.sheets, best.cost, best.used, best.missing) == (1, 5.0, 1.0, 0)
    scarce = Problem([Blank("A", 10, 10, qty=6)], [Stock("s", 20, 20, 5.0, qty=1)])
    assert rectpack_best(scarce).missing == 2
    assert rectpack_best(Problem([Blank("A", 30, 30)], [Stock("s", 20, 20, 5.0)])) is None
    assert rectpack_best(zero_waste(1, 2, 5)).sheets >= 2
