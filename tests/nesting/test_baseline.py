"""The engine against rectpack's best guillotine mode, on our own and on published instances."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Blank, Problem, Stock, solve, verify
from nesting.baseline import rectpack_best
from tests.strategies_nesting import sizes, zero_waste

BENCHMARKS = Path(__file__).parents[3] / "shared" / "benchmarks"
SETS = [
    ("bin_packing_one_size", True, 40),
    ("bin_packing_one_size", False, 60),
    ("several_sizes_random", False, 60),
    ("several_sizes_limited", False, 4),
    ("several_sizes_clustered", False, 80),
]


def published(name, every, turn):
    path = BENCHMARKS / f"{name}.jsonl"
    if not path.exists():
        pytest.skip(f"needs the shared instance set {path.name}")
    for line in path.read_text().splitlines()[::every]:
        row = json.loads(line)
        yield Problem(
            [Blank(f"b{i}", w, n, qty, turn) for i, (w, n, qty) in enumerate(row["items"])],
            [Stock(f"s{i}", *size) for i, size in enumerate(row["stock"])],
        )


@pytest.mark.parametrize(("name", "turn", "every"), SETS)
def test_never_worse_than_rectpack_on_published_instances(name, turn, every):
    for problem in published(name, every, turn):
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
