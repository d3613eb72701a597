"""Which settings of a shop profile are read while something is made: found by watching it read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import FunctionType
from typing import Any, cast

from pydantic import BaseModel

from takeoff.settings import Profile

Seen = dict[str, Any]
"""Values that were read, by key path, in the order of the first reading."""


def watched(profile: Profile, seen: Seen) -> Profile:
    """A stand-in for the profile that notes in `seen` every single value that is read of it."""
    return cast(Profile, _Table(profile, "", seen))


def _shown(value: Any, path: str, seen: Seen) -> Any:  # noqa: ANN401 - whatever a setting holds
    """What stands at a path: a table to be watched in turn, or a value that has now been read."""
    if isinstance(value, BaseModel):
        return _Table(value, path, seen)
    if isinstance(value, Mapping):
        return _Names(value, path, seen)
    seen.setdefault(path, value)
    return value


class _Table:
    """A table of the profile; its properties and methods read through it.

    A value that a copy was given in place of another was read before, where it stands.
    """

    def __init__(
        self, model: BaseModel, path: str, seen: Seen, given: frozenset[str] = frozenset()
    ) -> None:
        self._model = model
        self._path = path
        self._seen = seen
        self._given = given

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - whatever a setting holds
        kind = type(self._model)
        if name in self._given:
            return getattr(self._model, name)
        if name in kind.model_fields:
            path = f"{self._path}.{name}" if self._path else name
            return _shown(getattr(self._model, name), path, self._seen)
        if name == "model_copy":
            return self._copy
        member = getattr(kind, name)
        if isinstance(member, property) and member.fget is not None:
            return member.fget(self)
        if isinstance(member, FunctionType):
            return member.__get__(self)
        return getattr(self._model, name)

    def _copy(self, *, update: Mapping[str, Any]) -> _Table:
        given = self._given | update.keys()
        return _Table(self._model.model_copy(update=update), self._path, self._seen, given)


class _Names(Mapping[str, Any]):
    """A table whose keys are the shop's own names."""

    def __init__(self, inner: Mapping[str, Any], path: str, seen: Seen) -> None:
        self._inner = inner
        self._path = path
        self._seen = seen

    def __getitem__(self, name: str) -> Any:  # noqa: ANN401 - whatever a setting holds
        return _shown(self._inner[name], f"{self._path}.{name}", self._seen)

    def __iter__(self) -> Iterator[str]:
        return iter(self._inner)

    def __len__(self) -> int:
        return len(self._inner)
