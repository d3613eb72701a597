"""One thread at a time, and in the order in which they came."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from takeoff.web.turns import Turns


def test_one_at_a_time() -> None:
    turns = Turns()
    inside: list[int] = []
    most: list[int] = []

    def work(number: int) -> None:
        for _ in range(20):
            with turns:
                inside.append(number)
                most.append(len(inside))
                time.sleep(0.0005)
                inside.remove(number)

    with ThreadPoolExecutor(6) as pool:
        list(pool.map(work, range(6)))
    assert len(most) == 120
    assert max(most) == 1


def test_who_has_much_to_do_lets_the_others_in_between() -> None:
    turns, done = Turns(), threading.Event()
    rounds: list[int] = []

    def much() -> None:
        while not done.is_set():
            with turns:
                rounds.append(1)
                time.sleep(0.005)

    busy = threading.Thread(target=much)
    busy.start()
    try:
        while not rounds:
            time.sleep(0.001)
        before = len(rounds)
        for _ in range(5):
            with turns:
                pass
        assert len(rounds) - before <= 2 * 5
    finally:
        done.set()
        busy.join()


def test_an_error_lets_the_next_one_in() -> None:
    turns = Turns()
    for _ in range(2):
        with pytest.raises(LookupError), turns:
            raise LookupError
    with turns:
        pass
