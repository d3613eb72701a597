"""A plan's metal: reserved whole or not at all, cut, released, and planned again."""

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from takeoff.stockroom import KindKey, NewOffcut, OffcutState, PlanState
from takeoff.storekeeping.plan_file import read_plan
from takeoff.web.app import build
from takeoff.web.desk import Desk
from takeoff.web.runs import State
from tests.takeoff.web.conftest import HOME, Visitor
from tests.takeoff.web.desks import desk_in
from tests.takeoff.web.jobs_kept import DUCT, kept

from .conftest import finish

SHEET = KindKey("galvanized", 26, "4 x 10")


class Shop:
    """A desk with metal of its own, and a plan that takes the offcut and leaves a part of it."""

    def __init__(self, desk: Desk, visitor: Visitor) -> None:
        self.desk = desk
        self.visitor = visitor
        self.job = kept(desk, DUCT).id
        size = (48, 120)
        desk.room.sheets.add(SHEET, *size, 3)  # type: ignore[arg-type]
        (self.label,) = desk.room.rack.add([NewOffcut("galvanized", 26, *size)]).labels  # type: ignore[arg-type]
        page = visitor.post(f"/jobs/{self.job}/plan", {"seconds": "1", "draw": "all"})
        self.key = page.url.path.rpartition("/")[2]
        run = finish(desk, self.key)
        assert run.state is State.DONE, run.told

    @property
    def here(self) -> str:
        return f"/runs/{self.key}/metal"

    def state(self) -> PlanState:
        return self.desk.room.plans.get(self.key).state


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    with (
        desk_in(tmp_path) as desk,
        TestClient(build(desk, "a secret of the tests"), HOME) as client,
    ):
        yield Shop(desk, Visitor(client))


def test_reserved_and_cut_and_undone(shop: Shop) -> None:
    visitor = shop.visitor
    assert shop.here in visitor.get(f"/runs/{shop.key}").text
    page = visitor.get(shop.here).text
    assert shop.label in page
    assert "Reserve it" in page
    assert "Nothing is reserved for this plan yet." in page
    page = visitor.post(f"{shop.here}/reserve").text
    assert "Reserved: 1 offcut" in page
    assert "The metal of this plan is <b>reserved</b>." in page
    assert shop.state() is PlanState.COMMITTED
    assert shop.desk.room.rack.get(shop.label).state is OffcutState.RESERVED
    assert "reserved for" in visitor.get("/rack").text
    refused = visitor.post(f"/rack/{shop.label}/scrap")
    assert refused.status_code == 400
    page = visitor.post(f"{shop.here}/cut", {"place": "bay <2>"})
    assert "The metal of this plan is <b>cut</b>." in page.text
    assert shop.state() is PlanState.CUT
    assert shop.desk.room.rack.get(shop.label).state is OffcutState.USED
    kept_now = shop.desk.room.rack.all()
    assert kept_now
    assert all(each.place == "bay <2>" for each in kept_now)
    assert f"/rack/labels.pdf?plan={shop.key}" in page.text
    labels = visitor.get(f"/rack/labels.pdf?plan={shop.key}").content
    words = "".join(each.extract_text() for each in PdfReader(io.BytesIO(labels)).pages)
    assert all(each.label in words for each in kept_now)
    again = visitor.post(f"{shop.here}/cut")
    assert again.status_code == 400
    step = shop.desk.room.steps(1)[0].number
    visitor.post("/stock/undo", {"step": str(step)})
    assert shop.state() is PlanState.COMMITTED
    assert not shop.desk.room.audit()


def test_released(shop: Shop) -> None:
    shop.visitor.post(f"{shop.here}/reserve")
    assert "Released: nothing is reserved" in shop.visitor.post(f"{shop.here}/release").text
    assert "The metal of this plan is <b>released</b>." in shop.visitor.get(shop.here).text
    assert shop.state() is PlanState.RELEASED
    assert shop.desk.room.rack.get(shop.label).state is OffcutState.ON_RACK


def test_what_is_gone_is_told_and_planned_anew(shop: Shop) -> None:
    shop.visitor.post(f"/rack/{shop.label}/scrap")
    page = shop.visitor.post(f"{shop.here}/reserve")
    assert page.status_code == 409
    assert f"{shop.label}: scrapped" in page.text
    assert "Nothing is reserved" in page.text
    assert "Plan again with what is there" in page.text
    assert shop.state() is PlanState.PLANNED
    assert f"{shop.label}: scrapped" in shop.visitor.get(shop.here).text
    sent = {"seconds": "1", "draw": "all"}
    assert all(f'name="{name}" value="{value}"' in page.text for name, value in sent.items())
    new = shop.visitor.post(f"/jobs/{shop.job}/plan", sent).url.path.rpartition("/")[2]
    finish(shop.desk, new)
    assert "Reserved: 0 offcuts" in shop.visitor.post(f"/runs/{new}/metal/reserve").text


@pytest.mark.parametrize("what", ["reserve", "cut", "release"])
def test_a_plan_that_is_not_there(shop: Shop, what: str) -> None:
    for key in ("x", "..", "0" * 16):
        assert shop.visitor.post(f"/runs/{key}/metal/{what}").status_code == 404
    if what != "reserve":
        assert shop.visitor.post(f"{shop.here}/{what}").status_code == 400
    assert not shop.desk.room.audit()


def test_the_command_line_has_a_plan_of_the_page_by_the_same_key(shop: Shop) -> None:
    run = shop.desk.runs.run(shop.key)
    plan = read_plan(shop.desk.runs.papers(run))
    assert plan.key != shop.key
    known = plan.as_noted(shop.desk.room.plans.all())
    assert known.key == shop.key
    shop.visitor.post(f"{shop.here}/reserve")
    before = shop.desk.room.steps()
    shop.desk.room.plans.commit(known.key, known.name, known.needs)  # reserves nothing more
    assert shop.desk.room.steps() == before
