"""What `data/shop.toml` tells of its settings: where each is from, and which belong together."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from takeoff.profile import default_text

_TABLE = re.compile(r"\[(?P<name>[^\]]+)\]\s*(#\s*(?P<comment>.*))?$")
_VALUE = re.compile(
    r'(?P<key>[\w-]+|"[^"]+")\s*=\s*(?P<value>"(\\.|[^"\\])*"|[^#"]*?)\s*(#\s*(?P<comment>.*))?$'
)
_GROUP = re.compile(r"# --- (?P<title>.+?) -+$")
_REMARK = re.compile(r"#\s?(?P<words>.*)$")
_MORE = re.compile(r"\s+#\s*(?P<comment>.*)$")

FIRST_GROUP = "Units and steps"
"""Settings above the first heading."""


@dataclass(frozen=True)
class Group:
    """Settings that belong together.

    Attributes:
        title: their heading.
        about: what is said of them all, a paragraph each.
        tables: top-level tables and keys, in order.
    """

    title: str
    about: tuple[str, ...]
    tables: tuple[str, ...]


@cache
def origins() -> Mapping[str, str]:
    """The comment of every setting that has one, by key path; of a table under the table's name."""
    found: dict[str, str] = {}
    table, last = "", ""
    for line in default_text().splitlines():
        if match := _TABLE.match(line):
            table = last = match["name"]
        elif match := _VALUE.match(line):
            key = match["key"].strip('"')
            last = f"{table}.{key}" if table else key
        elif not (match := _MORE.match(line)):
            last = ""
            continue
        if last and match["comment"]:
            found[last] = f"{found.get(last, '')} {match['comment']}".strip()
    return MappingProxyType(found)


@cache
def groups() -> tuple[Group, ...]:
    """All settings, as the headings of the file group them."""
    titles = [FIRST_GROUP]
    about: list[list[str]] = [[]]
    tables: list[list[str]] = [[]]
    remarks = False
    for line in default_text().splitlines():
        if heading := _GROUP.match(line):
            titles.append(heading["title"])
            about.append([])
            tables.append([])
            remarks = False
        elif len(titles) > 1 and (words := _REMARK.match(line)):
            if remarks:
                about[-1][-1] += f" {words['words']}"
            else:
                about[-1].append(words["words"])
            remarks = True
        else:
            remarks = False
            if name := _top(line, bool(tables[-1])):
                tables[-1].append(name)
    return tuple(
        Group(title, tuple(told), tuple(dict.fromkeys(names)))
        for title, told, names in zip(titles, about, tables, strict=True)
    )


def _top(line: str, inside: bool) -> str:
    """The top-level table or key that a line begins; "" for none."""
    if match := _TABLE.match(line):
        return match["name"].split(".")[0]
    match = None if inside else _VALUE.match(line)
    return match["key"] if match else ""
