"""Names of the files of a plan."""

from __future__ import annotations

import re

from takeoff.layouts import Layout

LONGEST = 40


def sheet_file(layout: Layout) -> str:
    """The picture of a sheet layout: `sheets/02-galvanized-26ga-48x120.png`."""
    metal = f"{layout.metal.material}-{layout.metal.gauge}ga"
    return f"sheets/{layout.number:02d}-{metal}-{_plain(layout.item.name)}.png"


def _plain(name: str) -> str:
    """A name of letters and digits that every disk takes, from whatever the shop calls it."""
    return re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[:LONGEST].strip("-") or "stock"
