"""What was worked out before, kept while there is room."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

_Value = TypeVar("_Value")


class Cache(Generic[_Value]):
    """Values by key, those not asked for longest forgotten first; for any number of threads."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: OrderedDict[Hashable, _Value] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], _Value]) -> _Value:
        """The value of a key; made, outside the lock, where it is not there."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
                return self._values[key]
        value = make()
        with self._lock:
            self._values[key] = value
            while len(self._values) > self._most:
                self._values.popitem(last=False)
        return value
