"""report.html: the whole plan in one file that opens anywhere and prints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from takeoff.bill.money import show as money
from takeoff.drawing.key import samples
from takeoff.drawing.sheet import sheet_drawing
from takeoff.layouts import Layout
from takeoff.lengths import Length, Unit, show_exactly
from takeoff.sizes import sides

from .cautions import CAUTIONS
from .contents import Contents, taken
from .from_stock_csv import pieces
from .markup import environment
from .report_view import fitting_view
from .sheet_view import SheetView, sheet_view
from .svg import svg

NAME = "report.html"
SHEET_ROOM = (380.0, 470.0)
"""Points for the drawing of a sheet."""


@dataclass(frozen=True)
class _Sheet:
    """A layout in texts, and its drawing as SVG."""

    view: SheetView
    drawing: str


def report_html(contents: Contents) -> str:
    """The report as HTML; every value of the job is escaped."""
    unit = contents.plan.job.unit

    def tape(length: Length) -> str:
        return show_exactly(length, unit)

    templates = environment("takeoff.papers")
    templates.filters |= {
        "money": money,
        "tape": tape,
        "sides": lambda line: sides(line.width, line.length, unit),
        "percent": lambda share: f"{share:.1%}",
        "amount": lambda qty: f"{float(qty):,.1f}".removesuffix(".0"),
        "pounds": lambda weight: f"{float(weight):,.1f}",
        "begun": lambda text: text[:1].upper() + text[1:],
    }
    return templates.get_template(NAME).render(_values(contents, unit)) + "\n"


def _values(contents: Contents, unit: Unit) -> Mapping[str, object]:
    return {
        "contents": contents,
        "title": contents.plan.job.name or "Job",
        "unit": unit.name,
        "cautions": CAUTIONS,
        "sheets": [_sheet(layout, unit) for layout in contents.layouts],
        "fittings": [
            fitting_view(made, contents.bends, made.line.metal.name, unit)
            for made in contents.plan.lines
        ],
        "lines": {name: svg(sample) for name, sample in samples().items()},
        "taken": taken(contents),
        "from_stock": [part for line in contents.from_stock for part in pieces(line)],
    }


def _sheet(layout: Layout, unit: Unit) -> _Sheet:
    return _Sheet(sheet_view(layout, unit), svg(sheet_drawing(layout, unit, SHEET_ROOM)))
