"""Trees grown within the limits of a shear are cut orders that keep them."""

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nesting import Blank, Problem, ShearLimits, Stock
from nesting.dissection import dissect, keeps_limits
from nesting.improve.state import State
from nesting.kernels.limits import may_open
from nesting.kernels.table import begin
from nesting.reduce import reduce_problem
from nesting.unfold import unfold
from tests.nesting.kernels.test_moves import fill, wreck
from tests.strategies_nesting import sizes

LIMITS = st.builds(
    ShearLimits,
    stages=st.none() | st.integers(1, 4),
    first_across=st.booleans(),
    max_cut=st.none() | st.integers(20, 100),
)
SHEETS = st.lists(
    st.tuples(st.integers(20, 60), st.integers(20, 100)), min_size=1, max_size=2, unique=True
)


@given(
    sizes((2, 40), (2, 60)),
    SHEETS,
    LIMITS,
    st.sampled_from([(0, 0), (1, 0), (1, 2)]),
    st.integers(1, 2**31),
)
@settings(max_examples=80, deadline=None)
def test_whatever_is_moved_the_limits_hold(blanks, metal, shear, rules, seed):
    stock = [Stock(f"s{place}", *size, 1.0) for place, size in enumerate(metal)]
    problem = Problem(blanks, stock, kerf=rules[0], trim=rules[1], shear=shear)
    reduction = reduce_problem(problem)
    assume(len(reduction.reduced.demand))
    state, rng = State.of(reduction.reduced), np.array([seed])
    for _ in range(8):
        fill(state, rng)
        state.check()
        for sheet in unfold(reduction, state.snapshot()):
            assert keeps_limits(problem, sheet, dissect(problem, sheet))
        begin(state.table, state.log)
        wreck(state, rng)
        state.check()


def opens(shear, width, length, turn=False):
    """Whether an item of that size can be cut from an empty sheet of 48 x 120."""
    problem = Problem([Blank("A", 48, 120)], [Stock("s", 48, 120, 1.0)], shear=shear)
    table = State.of(reduce_problem(problem).reduced).table
    return bool(may_open(table, width, length, turn, 48, 120))


def test_what_an_empty_sheet_gives():
    assert opens(ShearLimits(max_cut=96), 20, 96)
    assert not opens(ShearLimits(max_cut=96), 20, 97)
    assert opens(ShearLimits(max_cut=96), 48, 97)
    assert not opens(ShearLimits(max_cut=40), 48, 97)
    assert opens(ShearLimits(max_cut=40), 48, 120)
    assert opens(ShearLimits(stages=1), 48, 30)
    assert not opens(ShearLimits(stages=1), 40, 30)
    assert opens(ShearLimits(stages=2, first_across=True), 40, 30)
    assert not opens(ShearLimits(first_across=True), 40, 120)
    assert opens(ShearLimits(stages=1, first_across=True), 30, 48, turn=True)
    assert opens(ShearLimits(min_strip=24), 10, 10)
    assert not opens(ShearLimits(min_strip=25), 24, 10)
    assert opens(ShearLimits(min_strip=25), 10, 10)
