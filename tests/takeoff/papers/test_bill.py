"""Hardware, shop time and the bill on the papers."""

import csv
import io
import json
from collections.abc import Callable
from dataclasses import replace

import pytest

from takeoff.jobs.cells import text
from takeoff.nest import JobPlan
from takeoff.papers import contents
from takeoff.papers.hardware_csv import hardware_csv
from takeoff.papers.plan_json import plan_json
from takeoff.papers.report_html import report_html

from .plans import ALL, inch_plan, told

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


@every_plan
def test_hardware_csv_says_what_the_bill_says(plan: Callable[[], JobPlan]) -> None:
    bill = told(plan).bill
    rows = list(csv.DictReader(io.StringIO(hardware_csv(told(plan)), newline="")))
    assert [text(row["what"]) for row in rows] == [line.what for line in bill.hardware]
    for row, line in zip(rows, bill.hardware, strict=True):
        assert float(row["qty"]) == pytest.approx(float(line.qty), abs=1e-5)
        assert (row["cost"] == "") == (line.cost is None)
        if line.cost is not None:
            assert float(row["cost"]) == pytest.approx(float(line.cost), abs=1e-5)


@every_plan
def test_plan_json_adds_up(plan: Callable[[], JobPlan]) -> None:
    document = json.loads(plan_json(told(plan), []))
    amounts = {line["what"]: line["amount"] for line in document["bill"]["lines"]}
    assert document["bill"]["total"] == pytest.approx(
        sum(line["amount"] for line in document["bill"]["lines"])
    )
    assert amounts["stock"] == pytest.approx(document["cost"])
    priced = sum(line["cost"] or 0 for line in document["hardware"])
    assert amounts["hardware"] == pytest.approx(priced)
    minutes = sum(line["minutes"] or 0 for line in document["shop_time"])
    assert document["bill"]["hours"] == pytest.approx(minutes / 60)


def test_the_report_tells_total_and_what_is_missing() -> None:
    job = inch_plan()
    rates = job.profile.rates.model_copy(update={"per_hour": None})
    unknown = replace(job, profile=job.profile.model_copy(update={"rates": rates}))
    page = report_html(contents(unknown))
    assert "No money for an hour (rates.per_hour)" in page
    page = report_html(told(inch_plan))
    bill = told(inch_plan).bill
    assert "No money for an hour" not in page
    assert f">{bill.money(bill.total)}<" in page
