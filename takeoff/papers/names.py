"""Names of the files of a plan."""

from __future__ import annotations

import re

from takeoff.layouts import Layout

LONGEST = 40


def sheet_file(layout: Layout, page: int = 1) -> str:
    """The picture of a sheet layout: `sheets/02-galvanized-26ga-48x120.png`.

    Pages after the first, where the lists go on, have their number at the end.
    """
    metal = f"{layout.metal.material}-{layout.metal.gauge}ga"
    size = file_word(layout.item.name, "stock")
    more = "" if page == 1 else f"-page-{page}"
    return f"sheets/{layout.number:02d}-{metal}-{size}{more}.png"


def file_word(name: str, otherwise: str) -> str:
    """A name of letters and digits that every disk takes, from whatever a person calls it.

    `otherwise` where nothing of the name is left.
    """
    return re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[:LONGEST].strip("-") or otherwise
