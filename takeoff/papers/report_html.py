"""report.html: the whole plan in one file that opens anywhere and prints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from takeoff.bill.money import show as money
from takeoff.drawing.cut_runs import CutRun, cut_runs
from takeoff.drawing.key import samples
from takeoff.drawing.sheet import numbered, sheet_drawing
from takeoff.layouts import Layout
from takeoff.lengths import Length, Unit, show_exactly

from .cautions import CAUTIONS
from .contents import Contents, metal_name, taken
from .from_stock_csv import pieces
from .names import sheet_file
from .report_view import fitting_view
from .svg import svg

NAME = "report.html"
SHEET_ROOM = (380.0, 470.0)
"""Points for the drawing of a sheet."""


@dataclass(frozen=True)
class _PartRow:
    number: int
    name: str
    qty: int
    size: str
    turned: int


@dataclass(frozen=True)
class _SheetView:
    layout: Layout
    metal: str
    size: str
    file: str
    drawing: str
    parts: tuple[_PartRow, ...]
    offcuts: tuple[tuple[str, str], ...]
    cuts: tuple[CutRun, ...]


def report_html(contents: Contents) -> str:
    """The report as HTML; every value of the job is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined  # noqa: PLC0415  slow to import
    from markupsafe import Markup  # noqa: PLC0415

    unit = contents.plan.job.unit

    def tape(length: Length) -> str:
        return show_exactly(length, unit)

    environment = Environment(
        loader=PackageLoader("takeoff.papers"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {
        "money": money,
        "tape": tape,
        "percent": lambda share: f"{share:.1%}",
        "amount": lambda qty: f"{float(qty):,.1f}".removesuffix(".0"),
        "pounds": lambda weight: f"{float(weight):,.1f}",
        # our own SVG: its texts were escaped when it was written
        "drawn": Markup,
        "begun": lambda text: text[:1].upper() + text[1:],
    }
    return environment.get_template(NAME).render(_values(contents, unit)) + "\n"


def _values(contents: Contents, unit: Unit) -> Mapping[str, object]:
    return {
        "contents": contents,
        "title": contents.plan.job.name or "Job",
        "unit": unit.name,
        "cautions": CAUTIONS,
        "sheets": [_sheet(layout, unit) for layout in contents.layouts],
        "fittings": [
            fitting_view(made, contents.bends, metal_name(made.line.metal), unit)
            for made in contents.plan.lines
        ],
        "lines": {name: svg(sample) for name, sample in samples().items()},
        "metal_name": metal_name,
        "taken": taken(contents),
        "from_stock": [part for line in contents.from_stock for part in pieces(line)],
    }


def _sheet(layout: Layout, unit: Unit) -> _SheetView:
    def size(width: Length, length: Length) -> str:
        return f"{show_exactly(width, unit)} x {show_exactly(length, unit)}"

    rows = []
    for name, number in numbered(layout).items():
        mine = [part for part in layout.parts if part.blank.name == name]
        turned = sum(part.turned for part in mine)
        rows.append(_PartRow(number, name, len(mine), size(*mine[0].size), turned))
    return _SheetView(
        layout=layout,
        metal=metal_name(layout.metal),
        size=f"{size(layout.width, layout.length)} {unit.name}",
        file=sheet_file(layout),
        drawing=svg(sheet_drawing(layout, unit, SHEET_ROOM)),
        parts=tuple(rows),
        offcuts=tuple(
            (offcut.label, size(offcut.box.width, offcut.box.length)) for offcut in layout.offcuts
        ),
        cuts=tuple(cut_runs(layout.cuts)),
    )
