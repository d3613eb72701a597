"""Ctrl-C as a wish to stop early, not as an exception in the middle of the work."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from nesting.progress import Event, Progress

_open: list[threading.Event] = []
"""The events of the blocks being run, the outermost first: a signal is for the whole process."""


@contextmanager
def interruptible() -> Iterator[threading.Event]:
    """Give an event that Ctrl-C sets; a second Ctrl-C raises KeyboardInterrupt as usual.

    Of blocks within each other all events are set, and those opened later are set from the start,
    so that one Ctrl-C ends a row of solves. In another than the main thread, where signals don't
    arrive, nothing sets it.
    """
    stop = threading.Event()
    main = threading.current_thread() is threading.main_thread()
    before = signal.getsignal(signal.SIGINT) if main else None
    if before is None:
        yield stop
        return
    if _open and _open[-1].is_set():
        stop.set()
    _open.append(stop)
    signal.signal(signal.SIGINT, _ask_to_stop)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)
        _open.remove(stop)


def _ask_to_stop(number: int, frame: FrameType | None) -> None:
    if _open[-1].is_set():
        signal.default_int_handler(number, frame)
    for stop in _open:
        stop.set()


def stopping(progress: Progress, stop: threading.Event) -> Progress:
    """A listener that takes KeyboardInterrupt raised by `progress` as a wish to stop."""

    def tell(event: Event) -> None:
        try:
            progress(event)
        except KeyboardInterrupt:
            stop.set()

    return tell
