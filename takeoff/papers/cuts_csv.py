"""cuts.csv: the cuts of every sheet in the order they are made."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.layouts import Layout, ShearCut
from takeoff.lengths import Unit

from .cells import Cell, table, tape
from .contents import Contents

NAME = "cuts.csv"
COLUMNS = (
    "layout",
    "times",
    "material",
    "gauge",
    "stock",
    "cut",
    "on_the_table",
    "direction",
    "back_gauge_in",
    "back_gauge",
    "cut_length_in",
    "cut_length",
    "falls_off",
    "stays",
)


def cuts_csv(contents: Contents) -> str:
    """One row a cut; `times` is how many sheets are cut so."""
    return table(COLUMNS, rows(contents))


def rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """The rows as they are, by column."""
    unit = contents.plan.job.unit
    for layout in contents.layouts:
        yield from (_row(layout, cut, unit) for cut in layout.cuts)


def direction(cut: ShearCut) -> str:
    """How the blade lies on the sheet as it is drawn."""
    return "across the width" if cut.across else "along the length"


def _row(layout: Layout, cut: ShearCut, unit: Unit) -> dict[str, Cell]:
    return {
        "layout": layout.number,
        "times": layout.count,
        "material": layout.metal.material,
        "gauge": layout.metal.gauge,
        "stock": layout.item.name,
        "cut": cut.number,
        "on_the_table": cut.part,
        "direction": direction(cut),
        "back_gauge_in": cut.back_gauge,
        "back_gauge": tape(cut.back_gauge, unit),
        "cut_length_in": cut.length,
        "cut_length": tape(cut.length, unit),
        "falls_off": cut.falls_off,
        "stays": cut.stays,
    }
