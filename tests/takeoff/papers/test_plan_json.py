"""plan.json: everything is there, and it adds up."""

import json
import math
from collections import Counter
from collections.abc import Callable
from functools import cache
from typing import Any

import pytest

from takeoff.lengths import INCH
from takeoff.nest import JobPlan
from takeoff.papers import Baseline, contents
from takeoff.papers.contents import bend_orders
from takeoff.papers.piece_records import fitting_record
from takeoff.papers.plan_json import plan_json
from takeoff.papers.plan_schema import SCHEMA, VERSION
from takeoff.profile import default
from tests.takeoff.bill.jobs import DUCT, row

from .plans import ALL, FORMULA, MARK, inch_plan, short_plan, told

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


@cache
def read(plan: Callable[[], JobPlan]) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(plan_json(told(plan), ["report.html"]))
    return document


def test_it_says_what_it_is() -> None:
    document = read(inch_plan)
    assert (document["schema"], document["version"]) == (SCHEMA, VERSION)
    assert document["files"] == ["report.html"]
    assert document["job"] == "Trial & error <b>"
    assert any("placeholders" in note for note in document["prices"])


def test_the_same_plan_made_twice_is_two_plans() -> None:
    made = [json.loads(plan_json(told(inch_plan), [])) for _ in range(2)]
    identities = [document.pop("identity") for document in made]
    assert made[0] == made[1]
    assert identities[0] != identities[1]


@every_plan
def test_groups_sheets_and_parts_add_up(plan: Callable[[], JobPlan]) -> None:
    job = plan()
    document = read(plan)
    assert len(document["groups"]) == len(job.groups)
    for record, group in zip(document["groups"], job.groups, strict=True):
        assert (record["material"], record["gauge"]) == (group.metal.material, group.metal.gauge)
        assert (record["cost"], record["bound"]) == (group.plan.cost, group.plan.bound)
        assert record["bound"] <= record["cost"] + 1e-9
        assert record["gap"] == pytest.approx(group.plan.gap)
        sheets = record["sheets"]
        assert sum(sheet["count"] for sheet in sheets) == len(group.plan.sheets)
        costs = sum(sheet["count"] * sheet["unit_cost"] for sheet in sheets)
        assert costs == pytest.approx(record["cost"])
        placed = Counter[str]()
        for sheet in sheets:
            for part in sheet["parts"]:
                placed[part["blank"]] += sheet["count"]
        missing = {entry["blank"]: entry["qty"] for entry in record["unplaced"]}
        for blank in group.blanks:
            assert placed[blank.name] + missing.get(blank.name, 0) == blank.qty


@every_plan
def test_parts_lie_on_their_sheet_in_their_size(plan: Callable[[], JobPlan]) -> None:
    document = read(plan)
    sizes = {
        piece["blank"]: (piece["width_in"], piece["length_in"])
        for fitting in document["fittings"]
        for piece in fitting["pieces"]
    }
    for group in document["groups"]:
        for sheet in group["sheets"]:
            area = 0.0
            for part in sheet["parts"]:
                width, length = part["width_in"], part["length_in"]
                assert 0 <= part["x_in"] <= part["x_in"] + width <= sheet["width_in"] + 1e-9
                assert 0 <= part["y_in"] <= part["y_in"] + length <= sheet["length_in"] + 1e-9
                lying = (length, width) if part["turned"] else (width, length)
                assert lying == pytest.approx(sizes[part["blank"]], abs=1 / 64)
                area += width * length
            for left in (*sheet["offcuts"], *sheet["scrap"]):
                area += left["width_in"] * left["length_in"]
            whole = sheet["width_in"] * sheet["length_in"]
            assert area <= whole + 1e-6
            assert sheet["used"] == pytest.approx(
                sum(p["width_in"] * p["length_in"] for p in sheet["parts"]) / whole
            )


def test_a_fitting_is_told_whole() -> None:
    fitting = read(inch_plan)["fittings"][0]
    assert (fitting["mark"], fitting["note"]) == (MARK, FORMULA)
    assert fitting["given"] == {"width": "19", "depth": "24", "height": "16"}
    wrap = fitting["pieces"][0]
    # 1/2 lip, 2 flange, 16 high, 19 wide, 16 high, 2 flange, 1/2 lip
    assert [mark["at_in"] for mark in wrap["marks_width"]] == [0.5, 2.5, 18.5, 37.5, 53.5, 55.5, 56]
    assert [mark["tape"] for mark in wrap["marks_width"]][:3] == ["1/2", "2 1/2", "18 1/2"]
    assert len(wrap["bend_order"]) == 6
    assert wrap["bend_order"][0]["line"] == "lip"
    assert {notch["kind"] for notch in wrap["notches"]} >= {"corner notch", "45 degree trim"}


def test_every_line_that_is_bent_by_hand_is_told() -> None:
    pan = row("drain pan", {"width": "24", "depth": "30", "height": "2", "rim": "raw"}, 1, 24)
    record = fitting_record(pan, bend_orders([pan], default().brake), INCH)
    ears = [step for step in record.pieces[0].bend_order if step.line == "ear"]
    # three lines in each corner: none is longer than the diagonal of its square of 2
    assert len(ears) == 12
    assert all(math.dist(ear.start, ear.end) < 2 * math.sqrt(2) + 1e-9 for ear in ears)
    assert {(ear.start, ear.end) for ear in ears} <= {
        (bend.start, bend.end) for bend in record.pieces[0].bends
    }


def test_a_stroke_of_the_brake_is_told_from_end_to_end() -> None:
    # two drives on each end of a joint, one stroke: across the wide sides, the narrow one between
    duct = row("straight duct", {**DUCT, "cross_break": "no"}, 1, 26)
    order = bend_orders([duct], default().brake)
    record = fitting_record(duct, order, INCH)
    strokes = [step for step in order[duct.blanks[0].name] if len(step.hinges) > 1]
    assert strokes
    for stroke in strokes:
        reach = max(
            math.dist(p, q)
            for a in stroke.hinges
            for b in stroke.hinges
            for p in (a.start, a.end)
            for q in (b.start, b.end)
        )
        (told,) = (
            step
            for step in record.pieces[0].bend_order
            if step.line == stroke.label
            and step.start[1] == pytest.approx(float(stroke.hinges[0].start[1]))
            and step.start[0] != step.end[0]
        )
        assert math.dist(told.start, told.end) == pytest.approx(reach)


def test_what_is_not_cut_is_told() -> None:
    document = read(short_plan)
    (entry,) = document["groups"][0]["unplaced"]
    assert (entry["blank"], entry["qty"]) == ("C1 cap", 6)
    assert "NOT cut" in document["warnings"][0]


def test_a_baseline_is_told_where_there_is_one() -> None:
    job = inch_plan()
    metal = job.groups[0].metal
    compared = contents(job, {metal: Baseline("rectpack", 61.04, 2, 0.5)})
    groups = json.loads(plan_json(compared, []))["groups"]
    assert groups[0]["baseline"] == {"name": "rectpack", "cost": 61.04, "sheets": 2, "used": 0.5}
    assert groups[1]["baseline"] is None
