"""Every family of fittings, found by walking this folder."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType

from takeoff.errors import TakeoffError, nearest

from .base import REGISTRY, CannotMake, Fitting, Made, Shop, plain

__all__ = ["CannotMake", "Fitting", "Made", "Shop", "UnknownFitting", "families", "find"]


class UnknownFitting(TakeoffError, LookupError):
    """A fitting that no family goes by; the message names the nearest."""

    def __init__(self, name: str, advice: str) -> None:
        self.name = name
        self.advice = advice
        super().__init__(f'"{name}" is not a fitting known here. {advice}')


@cache
def families() -> Mapping[str, type[Fitting]]:
    """Every fitting by its name on the job list, in alphabetical order."""
    for module in iter_modules(__path__):
        if not module.name.startswith("_"):
            import_module(f"{__name__}.{module.name}")
    return MappingProxyType(dict(sorted(REGISTRY.items())))


def find(name: str) -> type[Fitting]:
    """The family that a job row means, by its name or one of its other names.

    Raises:
        UnknownFitting: no family goes by the name.
    """
    wanted = plain(name)
    for family in families().values():
        if wanted in (family.kind, *family.also):
            return family
    names = [each for family in families().values() for each in (family.kind, *family.also)]
    raise UnknownFitting(name, nearest(wanted, names))
