"""Ctrl-C as a wish to stop early, not as an exception in the middle of the work."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from nesting.progress import Event, Progress


@contextmanager
def interruptible() -> Iterator[threading.Event]:
    """Give an event that Ctrl-C sets; a second Ctrl-C raises KeyboardInterrupt as usual.

    In another than the main thread, where signals don't arrive, nothing sets it.
    """
    stop = threading.Event()

    def ask_to_stop(number: int, frame: FrameType | None) -> None:
        if stop.is_set():
            signal.default_int_handler(number, frame)
        stop.set()

    main = threading.current_thread() is threading.main_thread()
    before = signal.getsignal(signal.SIGINT) if main else None
    if before is None:
        yield stop
        return
    signal.signal(signal.SIGINT, ask_to_stop)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


def stopping(progress: Progress, stop: threading.Event) -> Progress:
    """A listener that takes KeyboardInterrupt raised by `progress` as a wish to stop."""

    def tell(event: Event) -> None:
        try:
            progress(event)
        except KeyboardInterrupt:
            stop.set()

    return tell
