"""The shop's settings as they are shown: the default of each beside what the shop has."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from types import NoneType
from typing import Annotated, Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from takeoff.codes import NO_EDITION, editions
from takeoff.errors import Fault
from takeoff.lengths import Unit, parse
from takeoff.limits import allowed, is_length, is_number, length_text, named
from takeoff.origins import Group, groups, origins
from takeoff.profile import Profile, default_text
from takeoff.storekeeping.lists import exact_text
from takeoff.tables import WIDEST_STRIP, above_zero, strip_size

from .fields import Kind, label, sentence

Path = tuple[str, ...]
"""Of a setting or a table: keys from the top."""
Tree = Mapping[str, Any]

HIDDEN = (("room", "place"),)
"""Not shown and not to be set on a page: it may hold a password, and this page rests on it."""
NOT_KNOWN = "not known"
"""What is written in a form for an amount that the shop does not know, "" in the file."""
OFFERED: Mapping[str, Sequence[str]] = {
    "code.edition": (*editions(), NO_EDITION),
    "code.pressure": ("0.5", "1"),
}


@dataclass(frozen=True)
class Setting:
    """One setting.

    Attributes:
        path: its keys.
        label: for a person.
        kind: how it is filled in.
        value: what the shop set; "" for the usual.
        usual: the default; "" where the shop added the setting.
        allowed: what it takes.
        about: what it is.
        source: where the default is from.
        options: to choose from.
        offered: texts that can be picked instead of typed.
        faults: what is wrong with it, in sentences.
        now: what it is by now, where someone else changed it while this was typed.
    """

    path: Path
    label: str
    kind: Kind
    value: str
    usual: str
    allowed: str
    about: str
    source: str
    options: tuple[str, ...] = ()
    offered: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    now: str = ""

    @property
    def key(self) -> str:
        """Its path as the profile's faults tell it."""
        return ".".join(self.path)


@dataclass(frozen=True)
class SettingTable:
    """Settings that stand together.

    Attributes:
        path: of their table.
        about: where its defaults are from.
        settings: in order.
        own: whether the shop added it.
        grows: whether the shop may add to it; of its entries one can be taken as a pattern.
        entries: names of the tables in it.
    """

    path: Path
    about: str
    settings: tuple[Setting, ...]
    own: bool
    grows: bool
    entries: tuple[str, ...]

    @property
    def key(self) -> str:
        """Its path, joined with dots."""
        return ".".join(self.path)

    @property
    def title(self) -> str:
        """Its path for a person: `Seams: pittsburgh`."""
        first, *rest = self.path or ("units",)
        return ": ".join([label(first), *(each.replace("_", " ") for each in rest)])


def plainly(words: str) -> str:
    """A text about settings with their names as the page has them: `bend_notch` as "bend notch"."""
    return re.sub(r"`([^`]+)`", lambda found: f'"{found[1].replace("_", " ")}"', words)


def slug(group: Group) -> str:
    """The group in an address."""
    return re.sub(r"[^a-z]+", "-", group.title.casefold()).strip("-")


def tables(group: Group, own: Tree, unit: Unit) -> list[SettingTable]:
    """The tables of a group with all their settings.

    Args:
        group: of settings.
        own: the shop's file, read.
        unit: that it is written in.
    """
    walk = _Walk(own, unit)
    loose = [name for name in group.tables if not _is_table(_field(Profile, name).annotation)]
    found = [walk.table((), Profile, loose)] if loose else []
    for name in group.tables:
        if name not in loose:
            found += walk.below((name,), _field(Profile, name).annotation)
    return [table for table in found if table.settings or table.grows or table.own]


def with_faults(found: Sequence[SettingTable], faults: Sequence[Fault]) -> list[SettingTable]:
    """The tables with each fault beside its setting."""
    told: dict[str, list[str]] = {}
    for fault in faults:
        told.setdefault(fault.column or "", []).append(sentence(fault))
    return [
        replace(
            table,
            settings=tuple(
                replace(each, faults=tuple(told.get(each.key, ()))) for each in table.settings
            ),
        )
        for table in found
    ]


def shown(value: object, field: FieldInfo) -> str:
    """A value of a profile's file as it stands in a form."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return NOT_KNOWN if value == "" and may_be_unknown(field) else str(value)


def may_be_unknown(field: FieldInfo) -> bool:
    """Whether it is an amount that the shop need not know."""
    return NoneType in get_args(_bare(field.annotation))


def kind_of(path: Path) -> FieldInfo:
    """What a setting takes. Raises KeyError: there can be none of that path."""
    field: Any = Profile
    for step in path:
        kind = _bare(field.annotation) if isinstance(field, FieldInfo) else field
        if _is_model(kind):
            field = _field(kind, step)
        elif _is_mapping(kind):
            field = FieldInfo.from_annotation(get_args(kind)[-1])
        else:
            raise KeyError(step)
    if not isinstance(field, FieldInfo) or _is_table(field.annotation):
        raise KeyError(path)
    return field


def is_setting(path: Path) -> bool:
    """Whether there can be a setting of that path."""
    try:
        kind_of(path)
    except (KeyError, IndexError):
        return False
    return True


@cache
def usual_tree() -> Tree:
    """The default profile's file, read."""
    return tomllib.loads(default_text())


def at(tree: Tree, path: Path) -> Any:  # noqa: ANN401 - as TOML has it
    """What stands at a path; None where nothing does."""
    found: Any = tree
    for step in path:
        if not isinstance(found, Mapping) or step not in found:
            return None
        found = found[step]
    return found


@dataclass(frozen=True)
class _Walk:
    """Through the model of the profile, with what the shop has."""

    own: Tree
    unit: Unit

    def below(self, path: Path, annotation: object) -> Iterator[SettingTable]:
        """A table and all those in it."""
        kind = _bare(annotation)
        if _is_model(kind):
            names = list(kind.model_fields)
            flat = [name for name in names if not _is_table(_field(kind, name).annotation)]
            yield self.table(path, kind, flat)
            for name in names:
                if name not in flat:
                    yield from self.below((*path, name), _field(kind, name).annotation)
            return
        inner = get_args(kind)[-1]
        names = self._names(path)
        grows = not (path[0] == "prices" and path[1] != "hardware")
        if not _is_table(inner):
            field = FieldInfo.from_annotation(inner)
            settings = tuple(self._setting((*path, name), field, "") for name in names)
            yield SettingTable(path, _about(path), settings, False, grows, ())
            return
        if names and self._may_grow(path):
            yield SettingTable(path, "", (), False, True, tuple(names))
        for name in names:
            yield from self.below((*path, name), inner)

    def table(self, path: Path, model: type[BaseModel], names: Sequence[str]) -> SettingTable:
        """The settings of one table that are no tables themselves."""
        told = _told(model)
        settings = tuple(
            self._setting((*path, name), _field(model, name), told.get(name, ""))
            for name in names
            if (*path, name) not in HIDDEN
        )
        own = at(self.own, path) is not None and at(usual_tree(), path) is None
        return SettingTable(path, _about(path), settings, own, False, ())

    def _may_grow(self, path: Path) -> bool:
        """Whether the shop may add entries: to what it added itself, or at the top of a kind."""
        mine = at(usual_tree(), path[:2]) is None
        return mine or "strips" not in path

    def _names(self, path: Path) -> list[str]:
        found = [at(tree, path) or {} for tree in (usual_tree(), self.own)]
        return list(dict.fromkeys(name for each in found for name in each))

    def _setting(self, path: Path, field: FieldInfo, about: str) -> Setting:
        mine, usual = at(self.own, path), at(usual_tree(), path)
        words = "" if usual is None else shown(usual, field)
        if usual is not None and is_length(field):
            words = exact_text(parse(usual), self.unit)
        if usual is None and not field.is_required() and at(usual_tree(), path[:-1]) is not None:
            words = shown(field.default, field)
        key = ".".join(path)
        return Setting(
            path=path,
            label=label(path[-1]),
            kind=_kind(field),
            value="" if mine is None else shown(mine, field),
            usual=words,
            allowed=_limits(field, self.unit),
            about=plainly(about),
            source=_about(path),
            options=named(field),
            offered=tuple(OFFERED.get(key, ())),
        )


def _about(path: Path) -> str:
    """Where the defaults of a setting or table are from."""
    return plainly(origins().get(".".join(path), ""))


def _kind(field: FieldInfo) -> Kind:
    if named(field):
        return "choice"
    if is_length(field):
        return "length"
    return "number" if is_number(field) else "text"


def _limits(field: FieldInfo, unit: Unit) -> str:
    """What a setting takes, with what its own checks demand."""
    checks = {getattr(each, "func", None) for each in _checks(field)}
    if strip_size in checks:
        low = "more than 0" if above_zero in checks else "0"
        return f"{low}, up to {length_text(WIDEST_STRIP, unit)}"
    if above_zero in checks:
        return "a length of more than 0"
    told = allowed(field, unit)
    return f"{told}, or {NOT_KNOWN}" if may_be_unknown(field) else told


def _checks(field: FieldInfo) -> Iterator[object]:
    """All that an annotation is annotated with, within as well."""
    yield from field.metadata
    annotation = field.annotation
    while get_origin(annotation) is Annotated:
        annotation, *more = get_args(annotation)
        yield from more


@cache
def _told(model: type[BaseModel]) -> Mapping[str, str]:
    """What the description of a model says of its fields."""
    text = (model.__doc__ or "").partition("Attributes:")[2]
    found = re.findall(r"^ {8}(\w+): (.+(?:\n {12}.+)*)", text, re.MULTILINE)
    words = {name: " ".join(about.split()) for name, about in found}
    return {name: f"{about[:1].upper()}{about[1:]}" for name, about in words.items()}


def _field(model: type[BaseModel], name: str) -> FieldInfo:
    return model.model_fields[name]


def _bare(annotation: Any) -> Any:  # noqa: ANN401 - a type
    """The annotation without what it is annotated with."""
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    return annotation


def _is_model(kind: object) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def _is_mapping(kind: object) -> bool:
    origin = get_origin(kind)
    return isinstance(origin, type) and issubclass(origin, Mapping)


def _is_table(annotation: object) -> bool:
    return _is_model(_bare(annotation)) or _is_mapping(_bare(annotation))


def all_tables(own: Tree, unit: Unit) -> Iterator[tuple[Group, SettingTable]]:
    """Every table with its group."""
    for group in groups():
        for table in tables(group, own, unit):
            yield group, table
