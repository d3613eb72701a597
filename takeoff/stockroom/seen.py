"""What someone looked at before he asked for a change: nothing is done to what he has not seen."""

from __future__ import annotations

from typing import TypeVar

from .errors import NotAsSeen
from .records import Kind, KindKey, Offcut

_Thing = TypeVar("_Thing", Kind, Offcut)


def expect(now: _Thing, seen: _Thing | None, *names: str) -> None:
    """NotAsSeen where one of these values is another than was seen; None: nobody looked."""
    if seen is not None and any(getattr(now, name) != getattr(seen, name) for name in names):
        called: KindKey | str = now.key if isinstance(now, Kind) else now.label
        raise NotAsSeen(f"{called} was changed by someone else meanwhile: look at it again.")
