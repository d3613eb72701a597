"""What was worked out before, kept while there is room."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

_Value = TypeVar("_Value")

PART_FOR_ONCE = 4
"""The part of a full room, one in so many, for values that were asked for once."""


class Cache(Generic[_Value]):
    """Values by key, for any number of threads.

    A value that several ask for at once is made once: the others wait for it. Where the room is
    full, those not asked for longest are forgotten; first those that were asked for only once, down
    to a part of the room, so that passing ones, as while someone types, push out few others.

    References:
        R. Karedla, J. S. Love, B. G. Wherry, "Caching strategies to improve disk system
        performance", Computer 27 (1994): the segmented LRU.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._once: OrderedDict[Hashable, _Value] = OrderedDict()
        self._again: OrderedDict[Hashable, _Value] = OrderedDict()
        self._making: dict[Hashable, _Turn] = {}
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], _Value]) -> _Value:
        """The value of a key; made where it is not there. Raises what `make` raises."""
        with self._lock:
            if key in self:
                return self._found(key)
            turn = self._making.setdefault(key, _Turn())
            turn.waiting += 1
        try:
            with turn.lock:
                with self._lock:
                    if key in self:
                        return self._found(key)
                value = make()
                with self._lock:
                    self._once[key] = value
                    self._make_room()
                return value
        finally:
            with self._lock:
                turn.waiting -= 1
                if not turn.waiting:
                    del self._making[key]

    def __contains__(self, key: Hashable) -> bool:
        return key in self._again or key in self._once

    def __len__(self) -> int:
        return len(self._again) + len(self._once)

    def _found(self, key: Hashable) -> _Value:
        shelf = self._again if key in self._again else self._once
        self._again[key] = shelf.pop(key)
        return self._again[key]

    def _make_room(self) -> None:
        while len(self) > self._most:
            least = max(1, self._most // PART_FOR_ONCE)
            shelf = self._once if len(self._once) > least or not self._again else self._again
            shelf.popitem(last=False)


class _Turn:
    """Held by the one who makes a value; the others wait."""

    def __init__(self) -> None:
        self.lock = Lock()
        self.waiting = 0
