"""Ctrl-C, which a terminal sends to every process of a command, is for the first one alone."""

from __future__ import annotations

import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def kept_for_this_process() -> Iterator[None]:
    """Processes started inside never hear Ctrl-C: they inherit that.

    Where signals can be held back, what is pressed meanwhile is heard at the end of the
    block (at once where another thread of this process takes it); on Windows it is lost.
    """
    if sys.platform == "win32":
        with _ignored():
            yield
        return
    from multiprocessing import resource_tracker  # noqa: PLC0415 - there is none on Windows

    resource_tracker.ensure_running()  # started inside, it would let the signal through again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


@contextmanager
def _ignored() -> Iterator[None]:
    try:
        before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    except ValueError:  # not in the main thread, where signals don't arrive anyway
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
