"""Plans and comparisons as one starts, watches, ends and refuses them."""

import csv
import io
import re
from fractions import Fraction

import pytest

from takeoff.stockroom import NewOffcut
from takeoff.web.desk import Desk
from takeoff.web.runs import Kind, Run, State
from takeoff.web.runs.record import About
from takeoff.withdrawal import Draw
from tests.takeoff.web.conftest import Visitor, inputs
from tests.takeoff.web.jobs_kept import DUCT, kept

from .conftest import finish
from .waiting import until

FOR_EVER = "1800"
"""Seconds that no test waits for."""


def begin(visitor: Visitor, job: int, seconds: str = FOR_EVER) -> str:
    page = visitor.post(f"/jobs/{job}/plan", {"seconds": seconds})
    assert page.url.path.startswith("/runs/"), page.text
    return page.url.path.rpartition("/")[2]


def searching(visitor: Visitor, key: str) -> None:
    """Wait until a plan is found and the search goes on."""
    page = f"/runs/{key}"
    until(lambda: "Best so far" in visitor.get(page).text, "a first plan", 120)


@pytest.mark.parametrize("seconds", ["", "ten", "0", "-1", "nan", "inf", "1801", "1e9"])
def test_seconds_that_will_not_do(visitor: Visitor, desk: Desk, seconds: str) -> None:
    job = kept(desk, DUCT)
    page = visitor.post(f"/jobs/{job.id}/plan", {"seconds": seconds})
    assert page.status_code == 422
    assert "Give a number of seconds" in page.text
    assert inputs(page.text)["seconds"] == seconds
    for draw in Draw:
        again = visitor.post(f"/jobs/{job.id}/plan", {"seconds": seconds, "draw": draw}).text
        assert re.findall(r'value="(\w+)" checked', again) == [draw]
    assert not desk.runs.of_job(job.id)


def test_a_job_with_faults_is_not_planned(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT, {**DUCT, "mark": "D2", "width": "20 1/"})
    for what, more in (("plan", {}), ("compare", {"gauge": "24"})):
        page = visitor.post(f"/jobs/{job.id}/{what}", {"seconds": "1", **more})
        assert page.status_code == 422
        assert "20 1/" in page.text
        assert f'href="/jobs/{job.id}/rows/{job.rows[1].key}"' in page.text
    assert not desk.runs.of_job(job.id)


def test_a_job_without_rows_is_not_planned(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk)
    page = visitor.post(f"/jobs/{job.id}/plan", {"seconds": "1"})
    assert page.status_code == 422
    assert "Nothing is measured yet." in page.text


def test_a_fitting_that_cannot_be_made_is_told(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, {**DUCT, "width": "500", "height": "500"})
    key = begin(visitor, job.id)
    run = finish(desk, key)
    assert run.state is State.FAILED
    page = visitor.get(f"/runs/{key}").text
    assert "No plan was made" in page
    assert "500" in page
    assert "Start again" in page


def test_a_long_list_of_faults_stays_a_small_page(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    told = "\n".join(f"row {n}: {'wide ' * 40}" for n in range(2000))
    run = Run("0123456789abcdef", About(Kind.PLAN, job.id, "Elm", 1, 1.0), State.FAILED, told)
    desk.runs._keep(run)
    page = visitor.get(f"/runs/{run.key}")
    assert len(page.content) < 60_000
    assert "and 1900 more" in page.text


def test_watching_and_taking_what_is_found(visitor: Visitor, desk: Desk) -> None:
    rows = [
        {**DUCT, "mark": f"D{n}", "width": str(13 + n), "length": str(31 + 3 * n), "qty": "7"}
        for n in range(12)
    ]
    job = kept(desk, *rows)
    key = begin(visitor, job.id)
    first = visitor.get(f"/runs/{key}", headers={"HX-Request": "true"})
    assert 'hx-trigger="every 1s"' in first.text
    assert "<html" not in first.text
    searching(visitor, key)
    page = visitor.get(f"/runs/{key}").text
    assert 'aria-live="polite"' in page
    assert re.search(r"Best so far: \d+ sheets, [\d.,]+\.", page)
    assert "At least" in page
    (seen,) = re.findall(r"\?seen=(\w+)", page)
    again = visitor.get(f"/runs/{key}?seen={seen}", headers={"HX-Request": "true"}).text
    if f"?seen={seen}" in again:  # nothing new: nothing is said again
        assert "hx-swap-oob" not in again

    other = visitor.post(f"/jobs/{job.id}/plan", {"seconds": "1"})
    assert other.url.path == f"/runs/{key}"
    assert "This job is being worked on already." in other.text

    visitor.post(f"/runs/{key}/cancel")
    assert finish(desk, key).state is State.DONE
    over = visitor.get(f"/runs/{key}", headers={"HX-Request": "true"})
    assert (over.status_code, over.headers["HX-Redirect"]) == (204, f"/runs/{key}")
    page = visitor.get(f"/runs/{key}").text
    assert "taken before its time was up" in page
    late = visitor.post(f"/runs/{key}/discard", {"_live": "yes"})
    assert "was over meanwhile, so it is kept" in late.text
    assert "Sheets to cut" in late.text
    assert "Sheets to cut" in page


def test_discarding_while_it_runs(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    key = begin(visitor, job.id)
    page = visitor.post(f"/runs/{key}/discard")
    assert page.url.path == f"/jobs/{job.id}/plan"
    assert "The plan is deleted." in page.text
    assert visitor.get(f"/runs/{key}").status_code == 404


def test_a_plan_that_waits_tells_for_what(visitor: Visitor, desk: Desk) -> None:
    first, second = kept(desk, DUCT), kept(desk, DUCT)
    begin(visitor, first.id)
    key = begin(visitor, second.id)
    assert "Waiting for 1 other." in visitor.get(f"/runs/{key}").text
    visitor.post(f"/runs/{key}/cancel")
    assert "Stopped before it began." in visitor.get(f"/runs/{key}").text


def test_with_a_job_its_plans_go(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    key = begin(visitor, job.id)
    asked = inputs(visitor.get(f"/jobs/{job.id}/delete").text)
    visitor.post(f"/jobs/{job.id}/delete", {"_version": asked["_version"]})
    assert visitor.get(f"/runs/{key}").status_code == 404


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({}, "Tick at least one gauge"),
        ({"others": "48 by 96"}, "is not a sheet size"),
        ({"gauge": "x"}, "is not a gauge"),
        ({"material": "gold"}, "gold"),
        ({"others": ",".join(f"{40 + n}x100" for n in range(60))}, "Tick fewer"),
    ],
)
def test_what_cannot_be_compared(
    visitor: Visitor, desk: Desk, asked: dict[str, str], told: str
) -> None:
    job = kept(desk, DUCT)
    page = visitor.post(f"/jobs/{job.id}/compare", {"seconds": "1", **asked})
    assert page.status_code == 422
    assert told in page.text


def test_a_comparison_to_its_end(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    offered = visitor.get(f"/jobs/{job.id}/compare").text
    assert 'name="gauge" value="24"' in offered
    assert 'name="size" value="48x96"' in offered
    page = visitor.post(
        f"/jobs/{job.id}/compare", {"seconds": "0.2", "gauge": "24", "others": "50x100, 10x10"}
    )
    key = page.url.path.rpartition("/")[2]
    run = finish(desk, key)
    assert run.state is State.DONE, run.told
    assert not desk.room.plans.all()
    page = visitor.get(f"/runs/{key}").text
    cheapest = "Cheapest that the code table does not find too light: 24 ga, 50x100"
    for words in ("as written", "24 ga, 50x100", "cannot be made so", "<svg ", cheapest):
        assert words in page
    table = visitor.get(f"/runs/{key}/files/comparison.csv").text
    rows = list(csv.DictReader(io.StringIO(table)))
    assert [row["choice"] for row in rows] == ["as written", "24 ga, 50x100", "24 ga, 10x10"]
    assert all(
        f'<td class="n" data-name="cost">{row["cost"]}</td>' in page for row in rows if row["cost"]
    )
    assert visitor.get(f"/runs/{key}/files/plan.json").status_code == 404
    assert visitor.get(f"/runs/{key}/sheets/1").status_code == 404


def test_a_comparison_that_is_cut_short_shows_what_is_finished(
    visitor: Visitor, desk: Desk
) -> None:
    rows = [{**DUCT, "mark": f"D{n}", "width": str(13 + n), "qty": "9"} for n in range(9)]
    job = kept(desk, *rows)
    page = visitor.post(
        f"/jobs/{job.id}/compare", {"seconds": "4", "gauge": "24", "others": "50x100,49x99,47x97"}
    )
    key = page.url.path.rpartition("/")[2]
    until(lambda: "choices are finished." in visitor.get(f"/runs/{key}").text, "one choice", 120)
    visitor.post(f"/runs/{key}/cancel")
    run = finish(desk, key)
    assert (run.state, run.early) == (State.DONE, True)
    assert "choices were finished when it was ended" in visitor.get(f"/runs/{key}").text


def test_a_plan_takes_what_the_shop_has(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    bare = visitor.get(f"/jobs/{job.id}/plan").text
    assert 'value="nothing" checked' in bare
    step = desk.room.rack.add([NewOffcut("galvanized", 26, Fraction(60), Fraction(48), "bay <3>")])
    assert 'value="all" checked' in visitor.get(f"/jobs/{job.id}/plan").text
    page = visitor.post(f"/jobs/{job.id}/plan", {"seconds": "1", "draw": "all"})
    key = page.url.path.rpartition("/")[2]
    assert finish(desk, key).state is State.DONE
    page = visitor.get(f"/runs/{key}").text
    assert "Nothing has to be bought." in page
    assert f"{step.labels[0]} (bay &lt;3&gt;)" in page
    assert "1 offcut off the rack in place of" in page
    assert "Offcuts are used in place of" in page
    assert "off the rack" in visitor.get(f"/runs/{key}/sheets/1").text
    assert visitor.get(f"/runs/{key}/files/from_stock.csv").status_code == 200
    assert desk.room.rack.free()  # a plan promises nothing
