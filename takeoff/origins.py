"""Where a setting's default value comes from: the comment behind it in `data/shop.toml`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from takeoff.profile import default_text

_TABLE = re.compile(r"\[(?P<name>[^\]]+)\]\s*(#\s*(?P<comment>.*))?$")
_VALUE = re.compile(
    r'(?P<key>[\w-]+|"[^"]+")\s*=\s*(?P<value>"(\\.|[^"\\])*"|[^#"]*?)\s*(#\s*(?P<comment>.*))?$'
)
_MORE = re.compile(r"\s+#\s*(?P<comment>.*)$")


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
