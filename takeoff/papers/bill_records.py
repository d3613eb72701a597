"""Hardware, shop time and the bill in the form of plan.json."""

from __future__ import annotations

from fractions import Fraction

from takeoff.bill.total import Bill

from . import plan_schema as form


def hardware_records(bill: Bill) -> tuple[form.HardwareLineRecord, ...]:
    """Everything beside the sheets."""
    return tuple(
        form.HardwareLineRecord(
            line.what,
            line.detail,
            float(line.qty),
            line.unit,
            line.why,
            _known(line.unit_cost),
            _known(line.cost),
        )
        for line in bill.hardware
    )


def work_records(bill: Bill) -> tuple[form.WorkRecord, ...]:
    """Every kind of operation."""
    return tuple(
        form.WorkRecord(
            line.rate,
            line.what,
            float(line.qty),
            line.unit,
            _known(line.each),
            _known(line.minutes),
        )
        for line in bill.work
    )


def bill_record(bill: Bill) -> form.BillRecord:
    """The sums."""
    return form.BillRecord(
        bill.currency,
        float(bill.total),
        float(bill.hours),
        tuple(form.BillLineRecord(line.what, float(line.amount), line.why) for line in bill.lines),
        bill.missing,
        bill.notes,
    )


def _known(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
