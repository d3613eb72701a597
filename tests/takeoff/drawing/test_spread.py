"""Marks kept apart."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.drawing.spread import spread


@given(st.lists(st.floats(0, 100), max_size=30).map(sorted), st.floats(0.1, 10))
def test_places_are_a_step_apart_and_in_order(wanted: list[float], step: float) -> None:
    places = spread(wanted, step)
    assert len(places) == len(wanted)
    assert all(b - a >= step - 1e-9 for a, b in pairwise(places))


def test_what_has_room_stays_where_it_was() -> None:
    assert spread([0, 5, 11], 5) == [0, 5, 11]


def test_a_crowd_stays_round_its_middle() -> None:
    # 10 and 11 want to be 4 apart: 8.5 and 12.5, round 10.5
    assert spread([0, 10, 11], 4) == pytest.approx([0, 8.5, 12.5])
