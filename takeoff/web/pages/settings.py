"""The shop's settings: what differs from the default, and every one of them to change."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from urllib.parse import quote, unquote

from starlette.exceptions import HTTPException
from starlette.responses import Response

from takeoff.errors import Fault, ProfileFault
from takeoff.lengths import INCH, UNITS, Unit
from takeoff.origins import Group, groups
from takeoff.profile import loads
from takeoff.web.asking import Ask, get, post
from takeoff.web.pages import Nav
from takeoff.web.settings_edit import edited, only_what_differs, with_entry, without
from takeoff.web.settings_view import (
    Path,
    SettingTable,
    plainly,
    slug,
    tables,
    with_faults,
)
from takeoff.web.shop_book import ChangedElsewhere, digest
from takeoff.web.showing import go, show, tell

NAV = Nav(40, "Settings", "/settings")
TOML = "application/toml"


def whole(ask: Ask) -> Response:
    """The groups of settings, and all that the shop has otherwise than the default."""
    text = ask.desk.book.text()
    found = [(group, tables(group, *_read(text))) for group in groups()]
    return show(
        ask,
        "settings.html",
        groups=[(group, slug(group), _own(each)) for group, each in found],
        file=ask.desk.book.file,
        spoiled=ask.desk.book.spoiled(),
    )


def as_file(ask: Ask) -> Response:
    """The shop's own profile, as commands take it."""
    headers = {"Content-Disposition": 'attachment; filename="shop.toml"'}
    return Response(ask.desk.book.text(), media_type=TOML, headers=headers)


def group(ask: Ask) -> Response:
    """Every setting of a group."""
    text = ask.desk.book.text()
    return _shown(ask, text, tables(_group(ask), *_read(text)))


def save(ask: Ask) -> Response:
    """Keep what is filled in, or tell what is wrong with it beside its field."""
    text = ask.desk.book.text()
    filled = {
        path_of(name): value
        for name, value in ask.form.items()
        if isinstance(value, str) and not name.startswith("_")
    }
    found = tables(_group(ask), *_read(text))
    known = {setting.path for table in found for setting in table.settings}
    values = {path: value for path, value in filled.items() if path in known}
    if usual := ask.text("_usual"):
        values |= dict.fromkeys(known & {path_of(usual)}, "")
    mine = {table.path for table in found if table.own}
    added = {each for each in known if each[:-1] in _growing(found)}
    removed = {path_of(ask.text("_remove"))} & (mine | added)

    def change(now: str) -> str:
        new = edited(now, values)
        for path in removed:
            new = without(new, path)
        return new

    return _kept(ask, text, change, values)


def add(ask: Ask) -> Response:
    """One more entry in a table, like another one at first."""
    text = ask.desk.book.text()
    table = path_of(ask.text("_table"))
    if table not in _growing(tables(_group(ask), *_read(text))):
        raise HTTPException(404)
    name, like, value = ask.text("_name"), ask.text("_like"), ask.text("_value")
    return _kept(ask, text, lambda now: with_entry(now, table, name, like, value), {})


def name_of(path: Path) -> str:
    """The field of a setting in a form."""
    return ".".join(quote(step, safe="").replace(".", "%2E") for step in path)


def path_of(name: str) -> Path:
    """The setting of a field."""
    return tuple(map(unquote, name.split("."))) if name else ()


def _kept(
    ask: Ask, text: str, change: Callable[[str], str], values: Mapping[Path, str]
) -> Response:
    """The answer to a form after its change was written, or was not."""
    here = f"/settings/{slug(_group(ask))}"
    try:
        if ask.text("_base") != digest(text):
            raise ChangedElsewhere
        changed = change(text)
        loads(changed)
        new = only_what_differs(changed)
        ask.desk.book.write(new, digest(text))
    except ChangedElsewhere:
        return _conflict(ask, values)
    except ProfileFault as error:
        found = _filled(tables(_group(ask), *_read(text)), values)
        return _shown(ask, text, with_faults(found, error.faults), 422, error.faults)
    tell(ask, "Nothing was changed." if new == text else "The settings are kept.")
    return go(ask, here)


def _conflict(ask: Ask, values: Mapping[Path, str]) -> Response:
    """What was typed, and beside it what someone else has kept meanwhile."""
    text = ask.desk.book.text()
    found = tables(_group(ask), *_read(text))
    now = {each.path: each.value or each.usual for table in found for each in table.settings}
    typed = [
        replace(
            table,
            settings=tuple(
                replace(each, now=now[each.path])
                if (each.value or each.usual) != now[each.path]
                else each
                for each in table.settings
            ),
        )
        for table in _filled(found, values)
    ]
    return _shown(ask, text, typed, 409)


def _shown(
    ask: Ask,
    text: str,
    found: Sequence[SettingTable],
    status: int = 200,
    faults: Sequence[Fault] = (),
) -> Response:
    beside = {each.key for table in found for each in table.settings if each.faults}
    return show(
        ask,
        "settings_group.html",
        status,
        group=_group(ask),
        about=[plainly(words) for words in _group(ask).about],
        here=f"/settings/{slug(_group(ask))}",
        tables=found,
        base=digest(text),
        unit=_read(text)[1],
        name_of=name_of,
        conflict=status == 409,
        faults=[(str(each), "") for each in faults if each.column not in beside],
        wrong=sum(len(each.faults) for table in found for each in table.settings),
    )


def _filled(found: Sequence[SettingTable], values: Mapping[Path, str]) -> list[SettingTable]:
    return [
        replace(
            table,
            settings=tuple(
                replace(each, value=values.get(each.path, each.value)) for each in table.settings
            ),
        )
        for table in found
    ]


def _growing(found: Sequence[SettingTable]) -> set[Path]:
    return {table.path for table in found if table.grows}


def _own(found: Sequence[SettingTable]) -> list[tuple[str, str, str]]:
    """What the shop has otherwise: which setting, its own value, the usual one."""
    return [
        (f"{table.title}: {each.label.lower()}", each.value, each.usual)
        for table in found
        for each in table.settings
        if each.value
    ]


def _read(text: str) -> tuple[Mapping[str, object], Unit]:
    own = tomllib.loads(text)
    return own, UNITS.get(str(own.get("units")), INCH)


def _group(ask: Ask) -> Group:
    for each in groups():
        if slug(each) == ask.part("group"):
            return each
    raise HTTPException(404)


ROUTES = [
    get("/settings", whole),
    get("/settings/shop.toml", as_file),
    get("/settings/{group}", group),
    post("/settings/{group}", save),
    post("/settings/{group}/add", add),
]
