"""Values that are kept: made once however many ask, forgotten when there is no room."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.web.cache import Cache


def test_what_many_ask_for_at_once_is_made_once() -> None:
    cache: Cache[int] = Cache(10)
    made: list[int] = []
    ready = threading.Barrier(8)

    def make() -> int:
        made.append(1)
        time.sleep(0.05)
        return 7

    def ask(key: int) -> int:
        ready.wait(5)
        return cache.get(key % 2, make)

    with ThreadPoolExecutor(8) as pool:
        assert list(pool.map(ask, range(8))) == [7] * 8
    assert len(made) == 2


def test_a_failure_is_told_and_not_kept() -> None:
    cache: Cache[int] = Cache(10)

    def fail() -> int:
        raise LookupError

    for _ in range(2):
        with pytest.raises(LookupError):
            cache.get("a", fail)
    assert cache.get("a", lambda: 3) == 3


def test_those_not_asked_for_longest_are_forgotten() -> None:
    cache: Cache[None] = Cache(4)
    for key in ("a", "b", "c", "d", "a", "e"):  # a was asked for again
        cache.get(key, lambda: None)
    assert [key for key in "abcde" if key in cache] == ["a", "c", "d", "e"]


def test_a_round_of_as_many_as_there_is_room_for_is_kept_whole() -> None:
    cache: Cache[int] = Cache(40)
    for key in range(40):
        cache.get(key, lambda: 0)
    assert all(key in cache for key in range(40))


def test_passing_ones_push_out_none_that_are_asked_for_again() -> None:
    cache: Cache[int] = Cache(40)
    for key in [*range(30), *range(30)]:
        cache.get(key, lambda: 0)
    for key in range(1000, 2000):
        cache.get(key, lambda: 0)
    assert all(key in cache for key in range(30))
    assert len(cache) == 40


@given(st.lists(st.integers(0, 12), max_size=80), st.integers(1, 12))
def test_it_gives_what_was_made_and_never_holds_more_than_its_room(
    asked: list[int], most: int
) -> None:
    cache: Cache[str] = Cache(most)
    for key in asked:
        assert cache.get(key, lambda key=key: str(key)) == str(key)  # type: ignore[misc]
        assert key in cache
        assert len(cache) <= most
