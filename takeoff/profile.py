"""The shop profile: a shop's own settings laid over the defaults.

The defaults stand in `data/shop.toml`, each with its source. A shop's own file holds only what
differs.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from takeoff.errors import Fault, ProfileFault, nearest
from takeoff.faults import from_validation
from takeoff.lengths import INCH, UNITS, Unit, show_exactly
from takeoff.settings import Bend, EndTreatment, Profile, Seam, StripRule

__all__ = [
    "Bend",
    "Change",
    "EndTreatment",
    "Profile",
    "Seam",
    "StripRule",
    "changes",
    "default",
    "default_text",
    "load",
    "loads",
]


ROOM_PLACE = "room.place"


@dataclass(frozen=True)
class Change:
    """A setting that differs from the default: its key path and both values as text.

    `usual` is "" where the shop added the setting.
    """

    key: str
    value: str
    usual: str


def default_text() -> str:
    """The default profile as it is written, with comments and sources."""
    return files("takeoff").joinpath("data", "shop.toml").read_text(encoding="utf-8")


@cache
def default() -> Profile:
    """The default profile."""
    return Profile.model_validate(tomllib.loads(default_text()))


def load(path: Path | None = None) -> Profile:
    """A shop's profile laid over the default; without a path the default itself.

    Raises:
        ProfileFault: all that is wrong with the file, each with its key path and what is allowed.
    """
    if path is None:
        return default()
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise _unreadable(path.name, error.strerror or str(error)) from error
    except UnicodeDecodeError as error:
        raise _unreadable(path.name, "it is not UTF-8 text") from error
    return loads(text, path.name)


def loads(text: str, source: str = "") -> Profile:
    """As `load`, from the text of a profile; `source` is the file's name for the errors."""
    try:
        own = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _unreadable(source, f"it is not TOML: {error}") from error
    unit = UNITS.get(str(own.get("units")), INCH)
    usual = _tree(default())
    try:
        return Profile.model_validate(_laid_over(usual, own), context={"unit": unit})
    except ValidationError as error:
        faults = (_named(fault, usual) for fault in from_validation(error, Profile))
        raise ProfileFault(faults, source) from error


def changes(profile: Profile) -> tuple[Change, ...]:
    """What a profile sets otherwise than the default, in the order of the profile.

    Where the stock room is changes nothing in a plan, and may hold a password: it is left out.
    """
    usual = dict(_leaves(_tree(default())))
    return tuple(
        Change(key, _text(value, profile.unit), _text(usual.get(key, ""), profile.unit))
        for key, value in _leaves(_tree(profile))
        if key != ROOM_PLACE and (key not in usual or usual[key] != value)
    )


def _unreadable(source: str, reason: str) -> ProfileFault:
    fault = Fault(None, None, "the profile", f"cannot be read: {reason}", "Give a TOML file.")
    return ProfileFault([fault], source)


def _tree(settings: BaseModel | Mapping[str, Any]) -> dict[str, Any]:
    """The settings as nested tables, every value as it is held."""
    pairs = settings.items() if isinstance(settings, Mapping) else settings
    return {
        key: _tree(value) if isinstance(value, BaseModel | Mapping) else value
        for key, value in pairs
    }


def _laid_over(usual: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """Nested tables, with the values of `own` where it has them."""
    merged = dict(usual)
    for key, value in own.items():
        below = usual.get(key)
        if isinstance(value, Mapping) and isinstance(below, Mapping):
            merged[key] = _laid_over(below, value)
        else:
            merged[key] = value
    return merged


def _named(fault: Fault, usual: Mapping[str, Any]) -> Fault:
    """The fault, with the nearest known name where it lies in a seam or end the shop added."""
    group, name, *_ = [*(fault.column or "").split("."), "", ""]
    if group not in ("seams", "ends") or not name or name in usual[group]:
        return fault
    hint = f'"{name}" is new in {group}. {nearest(name, usual[group])}'
    return Fault(None, fault.column, fault.value, fault.problem, f"{fault.allowed} {hint}")


def _text(value: object, unit: Unit) -> str:
    """A value as the papers show it."""
    if isinstance(value, Fraction):
        return show_exactly(value, unit)
    if value is None:
        return "not known"
    return str(value).lower() if isinstance(value, bool) else str(value)


def _leaves(tree: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of nested tables with its key path, joined with dots."""
    for key, value in tree.items():
        here = f"{path}.{key}" if path else key
        if isinstance(value, Mapping):
            yield from _leaves(value, here)
        else:
            yield here, value
