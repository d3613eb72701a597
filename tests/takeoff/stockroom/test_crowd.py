"""The 1,000 rounds and 200 kills are `python -m tests.takeoff.stockroom.crowd`; here are fewer."""

import pytest

from .crowd import kills, rounds


@pytest.mark.slow
@pytest.mark.parametrize(("processes", "count"), [(2, 25), (8, 12)])
def test_nothing_is_promised_twice_or_lost(place: str, processes: int, count: int) -> None:
    tally = rounds(place, processes, count)
    assert tally.done == count
    assert tally.outcomes["committed"] >= count
    assert tally.outcomes["refused"] > 0


@pytest.mark.slow
def test_whoever_is_killed_leaves_a_sound_room(place: str) -> None:
    assert kills(place, 12).done == 12
