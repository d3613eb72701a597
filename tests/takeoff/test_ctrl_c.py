"""Ctrl-C while processes are started: they do not hear it, and this one does."""

import os
import signal
import subprocess
import sys
from threading import Thread

import pytest

from takeoff.ctrl_c import kept_for_this_process

pytestmark = pytest.mark.skipif(os.name != "posix", reason="sends a POSIX signal")

SURVIVE = "import os, signal; os.kill(os.getpid(), signal.SIGINT); print('deaf')"


def started() -> str:
    return subprocess.run(
        [sys.executable, "-c", SURVIVE], capture_output=True, text=True, check=False
    ).stdout.strip()


def test_a_press_meanwhile_is_heard_at_the_end() -> None:
    inside = []
    with pytest.raises(KeyboardInterrupt), kept_for_this_process():
        signal.raise_signal(signal.SIGINT)  # in this thread
        inside.append("went on")
    assert inside == ["went on"]


def test_only_what_is_started_inside_is_deaf() -> None:
    with kept_for_this_process():
        assert started() == "deaf"
    assert started() == ""


def test_it_works_in_another_thread() -> None:
    heard = []

    def start() -> None:
        with kept_for_this_process():
            heard.append(started())

    thread = Thread(target=start)
    thread.start()
    thread.join()
    assert heard == ["deaf"]
