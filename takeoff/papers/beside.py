"""Work done beside other work: in a second process, or, without one, at once and right here."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import Thread
from typing import ParamSpec, TypeVar

_Given = ParamSpec("_Given")
_Made = TypeVar("_Made")


class RightHere(Executor):
    """Does what it is given at once; what goes wrong is raised there and then."""

    def submit(
        self, fn: Callable[_Given, _Made], /, *args: _Given.args, **kwargs: _Given.kwargs
    ) -> Future[_Made]:
        """The outcome, there already."""
        future: Future[_Made] = Future()
        future.set_result(fn(*args, **kwargs))
        return future


@contextmanager
def second_process() -> Iterator[Executor]:
    """A process that does what it is given, one after the other, beside this one.

    It is a fresh one, no copy of this: that works on every system and whatever threads run here,
    but it has everything to import. It never hears Ctrl-C, and ends at once, in whatever it does,
    when the block or this process does. A machine with one core does all of it right here.
    """
    if (os.cpu_count() or 1) == 1:
        yield RightHere()
        return
    far_end, leash = get_context("spawn").Pipe(duplex=False)
    pool = ProcessPoolExecutor(1, get_context("spawn"), _settle, (far_end,))
    with leash, pool:
        with far_end, _ctrl_c_ignored():  # as what is started here will
            pool.submit(_start)
        try:
            yield pool
        finally:
            leash.close()


@contextmanager
def _ctrl_c_ignored() -> Iterator[None]:
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


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
