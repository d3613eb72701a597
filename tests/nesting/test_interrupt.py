"""Ctrl-C while solving, in blocks within each other."""

import signal
import threading

import pytest

from nesting.interrupt import interruptible


def ctrl_c() -> None:
    signal.raise_signal(signal.SIGINT)


def test_the_first_asks_and_the_second_raises():
    with interruptible() as stop:
        assert not stop.is_set()
        ctrl_c()
        assert stop.is_set()
        with pytest.raises(KeyboardInterrupt):
            ctrl_c()


def test_blocks_within_each_other_all_stop():
    with interruptible() as outer:
        with interruptible() as inner:
            ctrl_c()
            assert inner.is_set()
        assert outer.is_set()
        with interruptible() as later:
            assert later.is_set()


def test_a_block_left_behind_is_not_asked_again():
    before = signal.getsignal(signal.SIGINT)
    with interruptible():
        ctrl_c()
    assert signal.getsignal(signal.SIGINT) is before
    with interruptible() as stop:
        assert not stop.is_set()


def test_in_another_thread_nothing_happens():
    seen: list[bool] = []

    def work():
        with interruptible() as stop:
            seen.append(stop.is_set())

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert seen == [False]
