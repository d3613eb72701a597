"""A sheet layout as texts ready to be set: its blanks, its offcuts, its cuts in their order."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.drawing.cut_runs import CutRun, cut_runs
from takeoff.drawing.sheet import numbered
from takeoff.layouts import Layout
from takeoff.lengths import Unit, show_exactly
from takeoff.sizes import sides, size

from .names import sheet_file


@dataclass(frozen=True)
class PartRow:
    """Copies of a blank on a sheet: its number there, name, copies, size, and how many turned."""

    number: int
    name: str
    qty: int
    size: str
    turned: int


@dataclass(frozen=True)
class SheetView:
    """What is told of a sheet.

    Attributes:
        layout: what it is.
        metal: metal and gauge.
        size: with the unit.
        file: of its nest plot.
        parts: a row for each different blank.
        offcuts: label and size of what is kept.
        cuts: those alike taken together.
    """

    layout: Layout
    metal: str
    size: str
    file: str
    parts: tuple[PartRow, ...]
    offcuts: tuple[tuple[str, str], ...]
    cuts: tuple[CutRun, ...]


def sheet_view(layout: Layout, unit: Unit) -> SheetView:
    """The texts of a layout."""
    rows = []
    for name, number in numbered(layout).items():
        mine = [part for part in layout.parts if part.blank.name == name]
        turned = sum(part.turned for part in mine)
        across, along = (show_exactly(side, unit) for side in mine[0].size)
        rows.append(PartRow(number, name, len(mine), f"{across} x {along}", turned))
    return SheetView(
        layout=layout,
        metal=layout.metal.name,
        size=size(layout.width, layout.length, unit),
        file=sheet_file(layout),
        parts=tuple(rows),
        offcuts=tuple(
            (offcut.label, sides(offcut.box.width, offcut.box.length, unit))
            for offcut in layout.offcuts
        ),
        cuts=tuple(cut_runs(layout.cuts)),
    )
