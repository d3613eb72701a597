"""blanks.csv: every blank of the job with its size, area and weight."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.blanks import JobBlank
from takeoff.lengths import Unit

from .cells import Cell, table, tape
from .contents import Contents

NAME = "blanks.csv"
COLUMNS = (
    "blank",
    "mark",
    "fitting",
    "piece",
    "qty",
    "width_in",
    "length_in",
    "width",
    "length",
    "material",
    "gauge",
    "may_turn",
    "area_ft2",
    "weight_lb",
    "net_area_ft2",
    "net_weight_lb",
)


def blanks_csv(contents: Contents) -> str:
    """One row a blank; areas and weights are of one. Net: with notches and cut-outs taken off."""
    return table(COLUMNS, rows(contents))


def rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """The rows as they are, by column."""
    unit = contents.plan.job.unit
    for group in contents.plan.groups:
        yield from (_row(blank, unit) for blank in group.blanks)


def _row(blank: JobBlank, unit: Unit) -> dict[str, Cell]:
    return {
        "blank": blank.name,
        "mark": blank.mark,
        "fitting": blank.fitting,
        "piece": blank.piece.name,
        "qty": blank.qty,
        "width_in": blank.width,
        "length_in": blank.length,
        "width": tape(blank.width, unit),
        "length": tape(blank.length, unit),
        "material": blank.metal.material,
        "gauge": blank.metal.gauge,
        "may_turn": blank.turn,
        "area_ft2": blank.area,
        "weight_lb": blank.weight,
        "net_area_ft2": blank.net_area,
        "net_weight_lb": blank.net_weight,
    }
