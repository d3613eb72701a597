"""What must hold for every registered constructive heuristic, also for ones written tomorrow."""

import subprocess
import sys

import pytest
from hypothesis import given, settings

from nesting import Plan, Problem, verify
from nesting.build import HEURISTICS, heuristics_for
from nesting.build.base import register
from nesting.reduce import reduce_problem
from nesting.unfold import missing, unfold
from tests.strategies_nesting import problems


@pytest.mark.parametrize("name", sorted(HEURISTICS))
@given(problem=problems())
@settings(max_examples=25, deadline=None)
def test_its_layouts_pass_the_checker(name, problem):
    heuristic = HEURISTICS[name]
    reduction = reduce_problem(problem)
    if not heuristic.supports(problem) or not len(reduction.reduced.demand):
        return
    sheets = unfold(reduction, heuristic.build(reduction.reduced))
    cost = sum(sheet.cost for sheet in sheets)
    verify(problem, Plan(sheets, cost, 0.0, missing(reduction, sheets)))


@given(problems())
@settings(max_examples=10, deadline=None)
def test_some_heuristic_takes_any_problem_without_limits(problem: Problem):
    assert heuristics_for(problem)


def test_a_name_is_taken_once():
    taken = next(iter(HEURISTICS.values()))
    with pytest.raises(ValueError, match="registered twice"):
        register(taken)


def test_the_package_starts_without_the_heavy_libraries():
    code = (
        "import sys, nesting; print([m for m in ('numba', 'ortools', 'rectpack', 'matplotlib')"
        " if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
