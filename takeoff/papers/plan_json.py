"""plan.json: the whole plan, for machines."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from uuid import uuid4

from takeoff.bill.order import OrderLine
from takeoff.bill.weight import Weights
from takeoff.layouts import Box, Layout, ShearCut
from takeoff.nest import JobPlan
from takeoff.uncut import uncut

from . import plan_schema as form
from .bill_records import bill_record, hardware_records, work_records
from .contents import Baseline, Contents, GroupContents
from .cuts_csv import direction
from .names import sheet_file
from .piece_records import fitting_record
from .room_records import from_stock_records, kept_records, piece_records, room_record


def plan_json(contents: Contents, files: Sequence[str]) -> str:
    """The plan as JSON text; `files` are the names of those written beside it."""
    return json.dumps(asdict(record(contents, files)), indent=1, ensure_ascii=False) + "\n"


def record(contents: Contents, files: Sequence[str]) -> form.PlanRecord:
    """The plan in the form of plan.json."""
    plan = contents.plan
    return form.PlanRecord(
        schema=form.SCHEMA,
        version=form.VERSION,
        identity=uuid4().hex,
        job=plan.job.name,
        units=plan.job.unit.name,
        sheets=contents.sheets,
        cost=float(contents.cost.stock),
        bought=float(contents.cost.bought),
        bound=float(contents.bound),
        used=contents.used,
        weights=_weights(contents.weights),
        nesting_seconds=round(plan.seconds, 3),
        groups=tuple(_group(group, plan) for group in contents.groups),
        order=tuple(_order(line) for line in contents.order),
        room=room_record(plan.room),
        from_stock=from_stock_records(contents.from_stock),
        kept=kept_records(contents.layouts),
        hardware=hardware_records(contents.bill),
        shop_time=work_records(contents.bill),
        bill=bill_record(contents.bill),
        fittings=tuple(fitting_record(line, contents.bends, plan.job.unit) for line in plan.lines),
        assumed=contents.assumed,
        prices=contents.price_notes,
        warnings=contents.warnings,
        files=tuple(files),
    )


def _group(contents: GroupContents, job: JobPlan) -> form.GroupRecord:
    metal, plan = contents.group.metal, contents.group.plan
    return form.GroupRecord(
        material=metal.material,
        gauge=metal.gauge,
        thickness_in=float(metal.thickness),
        weight_lb_per_ft2=float(metal.weight),
        cost=plan.cost,
        bound=plan.bound,
        gap=plan.gap,
        used=plan.used,
        weights=_weights(contents.weights),
        baseline=_baseline(contents.baseline),
        sheets=tuple(_sheet(layout) for layout in contents.layouts),
        unplaced=tuple(
            form.UnplacedRecord(
                entry.blank.name,
                entry.qty,
                uncut(contents.group, entry, job.profile, job.job.unit),
            )
            for entry in plan.unplaced
        ),
    )


def _baseline(baseline: Baseline | None) -> form.BaselineRecord | None:
    if baseline is None:
        return None
    return form.BaselineRecord(baseline.name, baseline.cost, baseline.sheets, baseline.used)


def _weights(weights: Weights) -> form.WeightRecord:
    return form.WeightRecord(
        float(weights.stock), float(weights.blanks), float(weights.offcuts), float(weights.scrap)
    )


def _sheet(layout: Layout) -> form.SheetRecord:
    return form.SheetRecord(
        layout=layout.number,
        file=sheet_file(layout),
        stock=layout.item.name,
        width_in=float(layout.width),
        length_in=float(layout.length),
        count=layout.count,
        supply=str(layout.item.supply),
        pieces=piece_records(layout.pieces),
        unit_cost=layout.cost,
        used=layout.used,
        parts=tuple(
            form.PartRecord(part.blank.name, *_sides(part.box), part.turned)
            for part in layout.parts
        ),
        offcuts=tuple(
            form.LeftoverRecord(offcut.label, *_sides(offcut.box)) for offcut in layout.offcuts
        ),
        scrap=tuple(form.LeftoverRecord(None, *_sides(box)) for box in layout.scrap),
        cuts=tuple(_cuts(layout.cuts)),
    )


def _sides(box: Box) -> tuple[float, float, float, float]:
    return float(box.x), float(box.y), float(box.width), float(box.length)


def _cuts(cuts: Iterable[ShearCut]) -> Iterable[form.CutRecord]:
    for cut in cuts:
        yield form.CutRecord(
            cut.number,
            cut.part,
            direction(cut),
            float(cut.back_gauge),
            float(cut.length),
            cut.falls_off,
            cut.stays,
        )


def _order(line: OrderLine) -> form.OrderRecord:
    return form.OrderRecord(
        line.metal.material,
        line.metal.gauge,
        line.item.name,
        float(line.width),
        float(line.length),
        line.qty,
        float(line.unit_cost),
        float(line.cost),
        float(line.weight),
    )
