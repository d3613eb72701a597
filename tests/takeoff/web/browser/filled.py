"""A shop with something on every page."""

from dataclasses import dataclass

from starlette.testclient import TestClient

from takeoff.lengths import parse
from takeoff.origins import groups
from takeoff.stockroom import NewOffcut
from takeoff.web.app import build
from takeoff.web.desk import Desk
from takeoff.web.runs import Kind
from takeoff.web.settings_view import slug
from tests.takeoff.web.conftest import HOME, Visitor
from tests.takeoff.web.jobs_kept import BAKERY, DUCT, kept
from tests.takeoff.web.runs.waiting import until


@dataclass(frozen=True)
class Filled:
    """The shop's desk and the addresses of its pages."""

    desk: Desk
    paths: tuple[str, ...]


def fill(desk: Desk) -> Filled:
    """Jobs, a plan, a comparison, sheets, offcuts, settings; one of each page's addresses."""
    with TestClient(build(desk, "a secret of the tests"), HOME) as client:
        visitor = Visitor(client)
        visitor.post("/jobs/import", files={"list": ("bakery.csv", BAKERY.read_bytes())})
        job = next(head.id for head in desk.jobs.all())
        wrong = kept(desk, {**DUCT, "width": "17 1/"}, {**DUCT, "mark": "D2"}, name="With a fault")
        desk.room.rack.add(
            [
                NewOffcut("galvanized", 26, parse(f"{n * 5} 1/2"), parse("50"), "bay 3")
                for n in (2, 4)
            ]
        )
        sheet = {"material": "galvanized", "gauge": "26", "stock": "4 x 8", "width": "48"}
        visitor.post("/stock", {**sheet, "length": "96", "qty": "3", "cost": "40"})
        plan = visitor.post(f"/jobs/{job}/plan", {"seconds": "1", "draw": "all"}).url.path
        compare = visitor.get(f"/jobs/{job}/compare")
        assert compare.status_code == 200
        runs = desk.runs.of_job(job)
        until(lambda: not any(desk.runs.run(run.key).live for run in runs), "the plan", 240)
    (run,) = (run for run in desk.runs.of_job(job) if run.about.kind is Kind.PLAN)
    assert plan == f"/runs/{run.key}"
    row = desk.jobs.get(job).rows[0].key
    bad = desk.jobs.get(wrong.id).rows[0].key
    label = desk.room.rack.all()[0].label
    paths = (
        "/jobs", f"/jobs/{job}", f"/jobs/{job}/check", f"/jobs/{job}/add", f"/jobs/{job}/delete",
        f"/jobs/{job}/add/straight-duct", f"/jobs/{job}/rows/{row}",
        f"/jobs/{job}/rows/{row}/delete",
        f"/jobs/{wrong.id}", f"/jobs/{wrong.id}/rows/{bad}", f"/jobs/{job}/plan",
        f"/jobs/{job}/compare", plan, f"{plan}/sheets/1", f"{plan}/fittings", f"{plan}/fittings/1",
        f"{plan}/fittings/1/1", f"{plan}/files", f"{plan}/metal", "/stock", "/stock/steps",
        "/stock/sheet?material=galvanized&gauge=26&name=4+x+8", "/rack", f"/rack/{label}",
        "/settings", *(f"/settings/{slug(group)}" for group in groups()), "/nothing", "/enter",
    )  # fmt: skip
    return Filled(desk, paths)
