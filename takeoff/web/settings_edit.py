"""A shop's own profile, changed as a form says; only what differs from the default stays in it.

What the shop wrote beside its settings, and their order, are kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

import tomlkit
from pydantic.fields import FieldInfo
from tomlkit.container import Container, OutOfOrderTableProxy
from tomlkit.items import AbstractTable

from takeoff.errors import Fault, InvalidLength, ProfileFault, nearest
from takeoff.lengths import INCH, UNITS, Unit, parse
from takeoff.limits import is_length, is_number, named
from takeoff.profile import changes, loads

from .settings_view import (
    HIDDEN,
    NOT_KNOWN,
    Path,
    at,
    is_setting,
    kind_of,
    may_be_unknown,
    usual_tree,
)

Values = Mapping[Path, str]
"""What is filled in, by setting; "" for the usual."""
LONGEST = 500
LONGEST_NAME = 60
YES_NO = {"yes": True, "no": False}
_TABLES = AbstractTable | OutOfOrderTableProxy | Container


def edited(text: str, values: Values) -> str:
    """The profile with other values.

    Raises:
        ProfileFault: a value is far too long to be one; what else is wrong the reader tells.
    """
    own = tomlkit.parse(text)
    long = [path for path, value in values.items() if len(value) > LONGEST]
    if long:
        faults = (
            Fault(None, ".".join(path), values[path], "is too long", f"Give {LONGEST} letters.")
            for path in long
        )
        raise ProfileFault(faults)
    units = values.get(("units",))
    if units is not None and units != str(own.get("units", "")):
        _bind_to(own, str(own.get("units", INCH.name)))
    for path, value in values.items():
        if value.strip():
            _put(own, path, _typed(value.strip(), kind_of(path)))
        else:
            _take_out(own, path)
    return tomlkit.dumps(own)


def only_what_differs(text: str) -> str:
    """A sound profile without the settings that are as the default has them."""
    own = tomlkit.parse(text)
    differing = {change.key for change in changes(loads(text))}
    for path in list(_leaves(own)):
        same = at(usual_tree(), path) is not None and ".".join(path) not in differing
        if same and path not in HIDDEN:
            _take_out(own, path)
    return tomlkit.dumps(own)


def with_entry(text: str, table: Path, name: str, like: str, value: str) -> str:
    """The profile with one more entry in a table.

    Args:
        text: of the profile.
        table: that entries can be added to.
        name: of the new one.
        like: of the one that it is to be like at first; "" where `value` is what it is.
        value: of an entry that is no table.

    Raises:
        ProfileFault: its name will not do, or there is none to be like.
    """
    own = tomlkit.parse(text)
    known = {**(at(usual_tree(), table) or {}), **(at(own.unwrap(), table) or {})}
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_NAME:
        raise _refused(table, name, "is no name", f"Give 1 to {LONGEST_NAME} letters.")
    if name in known:
        raise _refused(table, name, "is there already", "Give another name.")
    if like:
        if like not in known:
            raise _refused(table, like, "is not there to be like", nearest(like, known))
        new = _whole(own.unwrap(), (*table, like))
    elif value.strip():
        new = _typed(value.strip(), kind_of((*table, name)))
    else:
        raise _refused(table, name, "has no value", "Give one.")
    _put(own, (*table, name), new)
    return tomlkit.dumps(own)


def without(text: str, path: Path) -> str:
    """The profile without a setting or a table that the shop added."""
    own = tomlkit.parse(text)
    _take_out(own, path)
    return tomlkit.dumps(own)


def _refused(table: Path, value: str, problem: str, allowed: str) -> ProfileFault:
    return ProfileFault([Fault(None, ".".join(table), value, problem, allowed)])


def _whole(own: Mapping[str, Any], path: Path) -> Any:  # noqa: ANN401 - as TOML has it
    """An entry with all that it has, by default or by the shop."""
    usual, mine = at(usual_tree(), path), at(own, path)
    if mine is None and is_setting(path) and is_length(kind_of(path)) and own.get("units"):
        return _bound(usual, INCH.name)
    if not isinstance(usual, Mapping) or not isinstance(mine, Mapping):
        return usual if mine is None else mine
    names = dict.fromkeys((*usual, *mine))
    return {name: _whole(own, (*path, name)) for name in names}


def _typed(value: str, field: FieldInfo) -> object:
    """What is filled in as the file holds it; what is no such value stays text, and is refused."""
    if value.casefold() == NOT_KNOWN and may_be_unknown(field):
        return ""
    if named(field) == tuple(YES_NO):
        return YES_NO.get(value, value)
    if is_length(field) or not is_number(field):
        return value
    for read in (int, float):
        try:
            return read(value)
        except ValueError:
            continue
    return value


def _bind_to(own: tomlkit.TOMLDocument, unit: str) -> None:
    """Write the unit to every bare length, so that it stays as long in another one."""
    for path in list(_leaves(own)):
        if path not in HIDDEN and is_setting(path) and is_length(kind_of(path)):
            value = at(own, path)
            bound = _bound(value, unit)
            if bound != value:
                _put(own, path, bound)


def _bound(value: object, unit: str) -> object:
    """A length with its unit, where it is a bare one of that unit."""
    read = [_length(value, each) for each in UNITS.values()]
    mine = _length(value, UNITS.get(unit, INCH))
    return value if mine is None or read.count(mine) == len(read) else f"{value} {unit}"


def _length(value: object, unit: Unit) -> Fraction | None:
    try:
        return parse(str(value), unit)
    except InvalidLength:
        return None


def _leaves(tree: Mapping[str, Any], above: Path = ()) -> Iterator[Path]:
    for name, value in tree.items():
        if isinstance(value, Mapping):
            yield from _leaves(value, (*above, name))
        else:
            yield (*above, name)


def _put(own: tomlkit.TOMLDocument, path: Path, value: object) -> None:
    """Set a value; tables above it are made."""
    table: Any = own
    for place, step in enumerate(path[:-1]):
        if step not in table:
            # a table that holds tables only has no heading of its own
            table[step] = tomlkit.table(is_super_table=place < len(path) - 2)
        table = table[step]
    table[path[-1]] = value


def _take_out(own: tomlkit.TOMLDocument, path: Path) -> None:
    """Remove what stands at a path, and tables that are empty then."""
    tables: list[Any] = [own]
    for step in path[:-1]:
        below = tables[-1].get(step)
        if not isinstance(below, _TABLES):
            return
        tables.append(below)
    if path[-1] not in tables[-1]:
        return
    del tables[-1][path[-1]]
    for place in range(len(path) - 1, 0, -1):
        above, step = tables[place - 1], path[place - 1]
        # a table that the shop added stays, even with nothing in it
        if len(above[step]) or at(usual_tree(), path[:place]) is None:
            return
        del above[step]
