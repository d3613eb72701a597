"""Work done beside other work: in a second process, or, without one, at once and right here."""

from __future__ import annotations

import os
import pickle
import signal
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import ExitStack, contextmanager
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import Thread
from typing import Any, ParamSpec, TypeVar

from takeoff.ctrl_c import kept_for_this_process

_Given = ParamSpec("_Given")
_Made = TypeVar("_Made")

MENDED = (3, 11, 5)
"""Before this Python, a pool could wait for ever at its end when its process had died."""


class RightHere(Executor):
    """Does what it is given at once; what goes wrong is raised there and then."""

    def submit(
        self, fn: Callable[_Given, _Made], /, *args: _Given.args, **kwargs: _Given.kwargs
    ) -> Future[_Made]:
        """The outcome, there already."""
        future: Future[_Made] = Future()
        future.set_result(fn(*args, **kwargs))
        return future


class _OrHere(Executor):
    """Has a pool do what it is given, and does right here what the pool's process died over."""

    def __init__(self, pool: Executor) -> None:
        self._pool = pool

    def submit(
        self, fn: Callable[_Given, _Made], /, *args: _Given.args, **kwargs: _Given.kwargs
    ) -> Future[_Made]:
        """The outcome; ask for it by `result`."""
        work = partial(fn, *args, **kwargs)
        # packed here, as the pool does it in a thread while this one still changes what is sent
        packed = pickle.dumps(work)
        try:
            return _Outcome(self._pool.submit(_unpacked, packed), work)
        except BrokenProcessPool:
            return RightHere().submit(fn, *args, **kwargs)


class _Outcome(Future[_Made]):
    def __init__(self, there: Future[_Made], work: Callable[[], _Made]) -> None:
        super().__init__()
        self._there, self._work = there, work

    def result(self, timeout: float | None = None) -> _Made:
        try:
            return self._there.result(timeout)
        except BrokenProcessPool:
            return self._work()


@contextmanager
def second_process() -> Iterator[Executor]:
    """A process that does what it is given, one after the other, beside this one.

    It is a fresh one, no copy of this: that works on every system and whatever threads run here,
    but it has everything to import. It never hears Ctrl-C, and ends at once, in whatever it does,
    when the block or this process does. What it dies over is done right here, and all of it is on
    a machine with one core or where no process can be started.
    """
    with ExitStack() as stack:
        yield _started(stack) or RightHere()


def _started(stack: ExitStack) -> Executor | None:
    """The second process, ended by the stack; None where it is of no use or cannot be had."""
    if (os.cpu_count() or 1) == 1 or sys.version_info < MENDED:
        return None
    try:
        far_end, leash = get_context("spawn").Pipe(duplex=False)
        with far_end:  # as what is started here has its own
            stack.enter_context(leash)
            pool = ProcessPoolExecutor(1, get_context("spawn"), _settle, (far_end,))
            stack.enter_context(pool)
            stack.callback(leash.close)
            with kept_for_this_process():
                pool.submit(_start)
    except (OSError, NotImplementedError, ImportError):
        return None
    return _OrHere(pool)


def _unpacked(packed: bytes) -> Any:  # noqa: ANN401 - whatever the work gives
    """In the second process: the outcome of what was packed in the first."""
    return pickle.loads(packed)()


def _start() -> None:
    """Nothing: with the first that it is given, the pool starts its process."""


def _settle(leash: Connection) -> None:
    """In the second process: leave Ctrl-C to the first, and end when it lets go of the leash."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Windows does not pass that on
    Thread(target=_end_with, args=(leash,), daemon=True).start()


def _end_with(leash: Connection) -> None:
    try:
        leash.recv()
    finally:
        os._exit(0)
