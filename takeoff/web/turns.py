"""A lock for threads, given in turn."""

from __future__ import annotations

from collections import deque
from threading import Lock


class Turns:
    """A lock that goes to who has waited longest.

    A `threading.Lock` goes to whoever comes first once it is free, which is mostly the thread that
    has just let it go: one with much to do keeps the others out until it is through.
    """

    def __init__(self) -> None:
        self._waiting: deque[Lock] = deque()
        self._held = False
        self._lock = Lock()

    def __enter__(self) -> None:
        with self._lock:
            if not self._held:
                self._held = True
                return
            mine = Lock()
            mine.acquire()
            self._waiting.append(mine)
        mine.acquire()

    def __exit__(self, *_: object) -> None:
        with self._lock:
            if self._waiting:
                self._waiting.popleft().release()
            else:
                self._held = False
