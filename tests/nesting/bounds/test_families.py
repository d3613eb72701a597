"""Every family is dual feasible: what fits side by side still fits after the change of lengths."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.bounds.families import (
    MOST_PARAMETERS,
    Axis,
    Scales,
    burdet_johnson,
    cardinality,
    cut_off,
    distinct,
    divide,
    family,
    identity,
    join,
    stairs,
    vanderbeck,
)

FREE_OF_ITEMS = [identity, cut_off, stairs, divide, vanderbeck, burdet_johnson]


def heaviest(values: np.ndarray, sizes: np.ndarray, capacity: int) -> int:
    """Most value of items side by side, each as often as it fits: a plain unbounded knapsack."""
    best = [0] * (capacity + 1)
    pairs = list(zip(sizes.tolist(), values.tolist(), strict=True))
    for room in range(1, capacity + 1):
        fitting = [best[room - size] + value for size, value in pairs if size <= room]
        best[room] = max(best[room - 1], *fitting) if fitting else best[room - 1]
    return best[capacity]


def assert_feasible(scales: Scales, sizes: np.ndarray, capacity: int) -> None:
    assert scales.values.shape == (scales.capacity.size, sizes.size)
    assert (scales.capacity > 0).all()
    assert (scales.values >= 0).all()
    for values, full in zip(scales.values, scales.capacity.tolist(), strict=True):
        assert heaviest(values, sizes, capacity) <= full


@pytest.mark.parametrize("make", FREE_OF_ITEMS)
@pytest.mark.parametrize("capacity", [1, 2, 3, 7, 10, 12, 24, 30])
def test_every_size_as_often_as_it_fits(make, capacity):
    sizes = np.arange(1, capacity + 1, dtype=np.int64)
    assert_feasible(make(sizes, capacity), sizes, capacity)


@pytest.mark.parametrize("make", FREE_OF_ITEMS)
@settings(max_examples=20, deadline=None)
@given(data=st.data(), capacity=st.integers(150, 900))
def test_large_capacities_sample_their_parameters(make, data, capacity):
    drawn = data.draw(st.lists(st.integers(1, capacity), min_size=1, max_size=4, unique=True))
    sizes = np.array(drawn, dtype=np.int64)
    scales = make(sizes, capacity)
    assert scales.capacity.size <= MOST_PARAMETERS
    chosen = np.unique(np.linspace(0, scales.capacity.size - 1, 5).astype(np.int64))
    if scales.capacity.size:
        assert_feasible(scales.pick(chosen), sizes, capacity)


@st.composite
def axes(draw):
    capacity = draw(st.integers(2, 30))
    m = draw(st.integers(1, 6))
    size = st.integers(1, capacity)
    straight, turned = (
        np.array(draw(st.lists(size, min_size=m, max_size=m)), dtype=np.int64) for _ in range(2)
    )
    demand = np.array(draw(st.lists(st.integers(1, 3), min_size=m, max_size=m)), dtype=np.int64)
    return Axis(capacity, straight, turned, demand)


def heaviest_row(values: np.ndarray, axis: Axis) -> int:
    """As `heaviest`, with each copy laid one way, the other way, or left out."""
    m = axis.demand.size
    best = [0] * (axis.capacity + 1)
    for i, many in enumerate(axis.demand.tolist()):
        ways = [
            (int(axis.straight[i]), int(values[i])),
            (int(axis.turned[i]), int(values[m + i])),
        ]
        for _ in range(many):
            before = best.copy()
            for size, value in ways:
                for room in range(axis.capacity, size - 1, -1):
                    best[room] = max(best[room], before[room - size] + value)
    return best[axis.capacity]


@settings(max_examples=60, deadline=None)
@given(axes())
def test_cardinality_holds_for_the_items_at_hand(axis):
    scales = cardinality(axis)
    for values, full in zip(scales.values, scales.capacity.tolist(), strict=True):
        assert heaviest_row(values, axis) <= full


@settings(max_examples=60, deadline=None)
@given(axes())
def test_a_whole_family_is_feasible_and_starts_with_the_identity(axis):
    scales = family(axis)
    assert (scales.values[0] == axis.sizes).all()
    assert scales.capacity[0] == axis.capacity
    for values, full in zip(scales.values, scales.capacity.tolist(), strict=True):
        assert heaviest_row(values, axis) <= full


def test_cardinality_by_hand():
    # Lengths 3, 3, 4 and 7 on 10, p = 3: the small ones are 3, 3, 4 (up to 10 / 2).
    # M(10) = 3 (3 + 3 + 4), M(10 - 7) = 1, so 7 counts for 3 - 1 = 2: two of the three go without.
    lengths = np.array([3, 4, 7], dtype=np.int64)
    scales = cardinality(Axis(10, lengths, lengths, np.array([2, 1, 1], dtype=np.int64)))
    assert scales.capacity[0] == 3
    assert scales.values[0, :3].tolist() == [1, 1, 2]


def test_divide_by_hand():
    # C = 10, p = 3: floor(10 / 3) = 3. x = 4: floor(4 / 3) = 1 of 3. x = 5 = C / 2: half.
    # x = 8: 3 - floor(2 / 3) = 3 of 3.
    scales = divide(np.array([4, 5, 8], dtype=np.int64), 10)
    assert scales.shares()[2].tolist() == pytest.approx([1 / 3, 1 / 2, 1.0])


def test_equal_rows_are_kept_once():
    one = identity(np.array([2, 5], dtype=np.int64), 10)
    same = Scales(one.values * 3, one.capacity * 3)
    other = Scales(one.values * 0, one.capacity)
    assert distinct(join([one, same, other])).capacity.tolist() == [10, 10]
