"""What the pages show of a plan, worked out once by the process that made it.

- summary.json: the plan as a whole.
- sheet-N.json: layout N, its lists, and its drawing with a link on every blank.
- sheet-N.svg: the same small, a picture.
- fitting-N.json: row N of the job, its card, and the layout card of each of its blanks.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from html import escape
from pathlib import Path
from shutil import rmtree
from typing import Any

from takeoff.bill.money import show as money
from takeoff.bill.order import OrderLine
from takeoff.bill.total import Bill
from takeoff.blanks import MadeLine
from takeoff.drawing.cut_runs import CutRun
from takeoff.drawing.primitives import Drawing
from takeoff.drawing.sheet import sheet_drawing
from takeoff.findings import findings
from takeoff.layouts import Layout
from takeoff.lengths import Unit, show_exactly
from takeoff.papers.assembly_words import steps, warnings
from takeoff.papers.cautions import cautions_for
from takeoff.papers.contents import Contents, GroupContents, taken
from takeoff.papers.report_view import fitting_view
from takeoff.papers.sheet_view import sheet_view
from takeoff.papers.svg import svg
from takeoff.sizes import sides, size

SUMMARY = "summary.json"
LARGE = (700.0, 900.0)
SMALL = (230.0, 300.0)
"""Points for the drawing of a sheet: on its own page, and in the list of sheets."""

ALONE = 'font-family="sans-serif"'
"""Of a picture, which has no page round it to tell how letters look."""

Places = Mapping[str, tuple[int, int]]
"""By the name of a blank: row of the job and place among the row's blanks, both from 1."""

_Record = dict[str, Any]


def sheet_name(number: int) -> str:
    """Of the file of a layout, without its ending."""
    return f"sheet-{number}"


def fitting_name(number: int) -> str:
    """Of the file of a row, without its ending."""
    return f"fitting-{number}"


def write_view(contents: Contents, files: Sequence[str], folder: Path) -> None:
    """Write everything into a new folder, in place of what was there."""
    rmtree(folder, ignore_errors=True)
    folder.mkdir()
    plan = contents.plan
    unit = plan.job.unit
    places = {
        blank.name: (row, place)
        for row, made in enumerate(plan.lines, 1)
        for place, blank in enumerate(made.blanks, 1)
    }
    for layout in contents.layouts:
        name = sheet_name(layout.number)
        _save(folder / f"{name}.json", _sheet(layout, places, unit))
        small = svg(sheet_drawing(layout, unit, SMALL)).replace("<svg ", f"<svg {ALONE} ", 1)
        (folder / f"{name}.svg").write_text(small, encoding="utf-8")
    for row, made in enumerate(plan.lines, 1):
        _save(folder / f"{fitting_name(row)}.json", _fitting(made, contents))
    _save(folder / SUMMARY, _summary(contents, files))


def _summary(contents: Contents, files: Sequence[str]) -> _Record:
    plan = contents.plan
    unit = plan.job.unit
    return {
        "unit": unit.name,
        "taken": taken(contents),
        "used": f"{contents.used:.1%}",
        "counted": money(contents.counted),
        "bound": money(contents.bound),
        "count_note": contents.count_note,
        "rack_note": contents.rack_note,
        "size_note": contents.size_note,
        "warnings": contents.warnings,
        "findings": findings(plan.job, plan.profile),
        "assumed": contents.assumed,
        "price_notes": contents.price_notes,
        "metals": [_metal(group) for group in contents.groups],
        "weights": {name: f"{float(lb):.1f}" for name, lb in asdict(contents.weights).items()},
        "order": [_order(line, unit) for line in contents.order],
        "bought": money(contents.cost.bought),
        "from_stock": [
            {**_order(line, unit), "where": [piece.told for piece in line.pieces]}
            for line in contents.from_stock
        ],
        "bill": _bill(contents.bill),
        "layouts": [_layout(layout, unit) for layout in contents.layouts],
        "fittings": [
            {
                "mark": made.line.mark,
                "kind": made.line.fitting.kind,
                "qty": made.line.qty,
                "metal": made.line.metal.name,
                "blanks": sum(blank.qty for blank in made.blanks),
            }
            for made in plan.lines
        ],
        "files": list(files),
    }


def _metal(group: GroupContents) -> _Record:
    plan = group.group.plan
    return {
        "name": group.name,
        "blanks": sum(blank.qty for blank in group.group.blanks),
        "sheets": group.sheets,
        "used": f"{plan.used:.1%}",
        "cost": money(plan.cost),
        "bound": money(plan.bound),
        "gap": f"{plan.gap:.1%}",
        "best": plan.cost <= plan.bound,
    }


def _order(line: OrderLine, unit: Unit) -> _Record:
    return {
        "metal": line.metal.name,
        "name": line.item.name,
        "size": sides(line.width, line.length, unit),
        "qty": line.qty,
        "each": money(line.unit_cost),
        "cost": money(line.cost),
        "weight": f"{float(line.weight):.1f}",
    }


def _bill(bill: Bill) -> _Record:
    return {
        "lines": [
            {"what": line.what, "amount": bill.money(line.amount), "why": line.why}
            for line in bill.lines
        ],
        "total": bill.money(bill.total),
        "missing": bill.missing,
        "notes": bill.notes,
    }


def _layout(layout: Layout, unit: Unit) -> _Record:
    return {
        "number": layout.number,
        "metal": layout.metal.name,
        "name": layout.item.name,
        "size": size(layout.width, layout.length, unit),
        "times": layout.times,
        "whence": layout.whence,
        "used": f"{layout.used:.1%}",
        "blanks": len(layout.parts),
    }


def _sheet(layout: Layout, places: Places, unit: Unit) -> _Record:
    view = sheet_view(layout, unit)
    return {
        **_layout(layout, unit),
        "drawing": _linked(sheet_drawing(layout, unit, LARGE), layout, places),
        "parts": [{**asdict(part), "at": places[part.name]} for part in view.parts],
        "offcuts": view.offcuts,
        "trim": f"{show_exactly(layout.trim, unit)} {unit.name}" if layout.trim else "",
        "cuts": [_cut(run, unit) for run in view.cuts],
    }


def _cut(run: CutRun, unit: Unit) -> _Record:
    cut = run.last
    times = f"{run.times} x " if run.times > 1 and run.first.falls_off == cut.falls_off else ""
    return {
        "numbers": run.numbers,
        "part": cut.part,
        "way": "across" if cut.across else "along",
        "gauge": show_exactly(cut.back_gauge, unit),
        "length": show_exactly(cut.length, unit),
        "falls": f"{times}{run.falls_off}",
        "stays": cut.stays,
    }


def _linked(drawing: Drawing, layout: Layout, places: Places) -> str:
    """The drawing as SVG in which every blank leads to its card; `sheet.html` lists them too."""
    links = "".join(_links(drawing, layout, places))
    # a picture that is one image to a screen reader would hide the links in it
    group = svg(drawing).replace('role="img"', 'role="group"', 1)
    return f"{group.removesuffix('</svg>')}{links}</svg>"


def _links(drawing: Drawing, layout: Layout, places: Places) -> Iterator[str]:
    scale = drawing.scale
    for part in layout.parts:
        box = part.box
        row, place = places[part.blank.name]
        x = (float(box.x) - drawing.low[0]) * scale
        y = (drawing.high[1] - float(box.y + box.length)) * scale
        wide, high = float(box.width) * scale, float(box.length) * scale
        yield (
            f'<a href="../fittings/{row}/{place}" tabindex="-1" '
            f'aria-label="{escape(part.blank.name)}"><rect x="{x:.2f}" y="{y:.2f}" '
            f'width="{wide:.2f}" height="{high:.2f}" fill="none" pointer-events="all"/></a>'
        )


def _fitting(made: MadeLine, contents: Contents) -> _Record:
    plan, bends = contents.plan, contents.bends
    unit = plan.job.unit
    view = fitting_view(made, bends, made.line.metal.name, unit)
    return {
        **asdict(view),
        "steps": list(steps(made, bends, plan.profile)),
        "warnings": list(warnings(made, bends)),
        "cautions": list(cautions_for(made)),
    }


def _save(path: Path, record: _Record) -> None:
    path.write_text(json.dumps(record, ensure_ascii=False), encoding="utf-8")
