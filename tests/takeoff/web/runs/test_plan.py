"""A plan from its form to its papers, in a process of its own."""

import csv
import io
import json
import re
import zipfile
from urllib.parse import quote

import pytest

from takeoff.stockroom import Needs, Progress
from takeoff.web.runs import State

from .conftest import HOSTILE, Made

NEVER_SENT = [
    "run.json",
    "log.txt",
    "pieces.pickle",
    "../run.json",
    "..%2Frun.json",
    "%2e%2e/run.json",
    "%2e%2e%2f%2e%2e%2frun.json",
    "..\\run.json",
    "/etc/passwd",
    "%2Fetc%2Fpasswd",
    "sheets/%2e%2e/plan.json",
    "sheets",
    "plan.json%00",
    "plan.json/",
    "PLAN.JSON",
    "",
]
MOST = 300_000
"""Bytes of a page."""


def test_the_plan_is_made_and_noted_in_the_room(planned: Made) -> None:
    run = planned.plan
    assert run.state is State.DONE, run.told
    assert re.fullmatch(r"\d sheets?, [\d.,]+", run.told)
    noted = planned.desk.room.plans.get(run.key)
    assert (noted.progress, noted.job) == (Progress.DONE, planned.job)
    assert noted.folder == str(planned.desk.runs.papers(run))
    listed = planned.visitor.get(f"/jobs/{planned.job}/plan").text
    assert f"/runs/{run.key}" in listed
    assert run.told in listed


def test_every_page_of_it_is_small_and_tells_hostile_text_as_text(planned: Made) -> None:
    seen: set[str] = set()
    waiting = [planned.path]
    while waiting:
        path = waiting.pop()
        if path in seen or "/files/" in path or path.endswith(".zip"):
            continue
        seen.add(path)
        page = planned.visitor.get(path)
        assert page.status_code == 200, path
        assert len(page.content) < MOST, path
        assert HOSTILE not in page.text
        here = re.findall(rf'(?:href|src)="({planned.path}/[^"?#]*)', page.text)
        near = re.findall(r'href="\.\./(fittings/\d+/\d+)"', page.text)
        waiting += [*here, *(f"{planned.path}/{each}" for each in near)]
    for part in ("/sheets/1", "/sheets/1.svg", "/fittings", "/fittings/1", "/fittings/2/1"):
        assert planned.path + part in seen
    assert len(seen) > 8


def test_the_whole_agrees_with_plan_json(planned: Made) -> None:
    page = planned.visitor.get(planned.path).text
    plan = json.loads(planned.visitor.get(f"{planned.path}/files/plan.json").text)
    for group in plan["groups"]:
        assert f"{group['material']} {group['gauge']} ga" in page
        assert f"{group['cost']:,.2f}" in page
        assert f"{group['used']:.1%}" in page
        if group["cost"] > group["bound"]:
            assert f"cannot cost less than {group['bound']:,.2f}" in page
    assert f"{plan['bill']['total']:,.2f}" in page
    sheets = [sheet for group in plan["groups"] for sheet in group["sheets"]]
    for number, sheet in enumerate(sheets, 1):
        shown = planned.visitor.get(f"{planned.path}/sheets/{number}").text
        links = re.findall(
            r'<a href="\.\./fittings/(\d+)/(\d+)" tabindex="-1" aria-label="[^"]+">', shown
        )
        assert len(links) == len(sheet["parts"])
        cards = [planned.visitor.get(f"{planned.path}/fittings/{a}/{b}").text for a, b in links]
        for part, card in zip(sheet["parts"], cards, strict=True):
            assert f"<h1>{part['blank']}: " in card
        for cut in sheet["cuts"]:
            assert cut["falls_off"] in shown


def test_a_layout_card_has_marks_and_bends_of_the_report(planned: Made) -> None:
    card = planned.visitor.get(f"{planned.path}/fittings/1/1").text
    for words in ("Running marks", "From the left edge", "Bends, in this order", "<svg "):
        assert words in card
    report = planned.visitor.get(f"{planned.path}/files/report.html").text
    (first,) = re.findall(r'aria-label="Bends".*?</table>', card, re.DOTALL)
    cells = re.findall(r"<td[^>]*>([^<]+)</td>", first)
    assert len(cells) >= 4, first
    for cell in cells:
        assert cell in report


def test_the_files_are_sent_to_be_kept(planned: Made) -> None:
    names = json.loads(planned.visitor.get(f"{planned.path}/files/plan.json").text)["files"]
    assert {"packet.pdf", "report.html", "job.xlsx", "order.csv", "cuts.csv"} <= set(names)
    listed = planned.visitor.get(f"{planned.path}/files").text
    for name in names:
        assert f'href="{planned.path}/files/{name}"' in listed
        sent = planned.visitor.get(f"{planned.path}/files/{name}")
        assert sent.status_code == 200
        told = sent.headers["content-disposition"]
        assert re.fullmatch(r'attachment; filename="[a-z0-9-]+\.[a-z]+"', told), told
        assert sent.content == (planned.desk.runs.papers(planned.plan) / name).read_bytes()
    order = planned.visitor.get(f"{planned.path}/files/order.csv").text
    assert len(list(csv.DictReader(io.StringIO(order)))) >= 2


@pytest.mark.parametrize("name", NEVER_SENT)
def test_no_other_file_is_sent(planned: Made, name: str) -> None:
    sent = planned.visitor.get(f"{planned.path}/files/{name}")
    assert sent.status_code == 404 or sent.url.path.endswith("/files"), sent.url


@pytest.mark.parametrize("key", ["..", "%2e%2e", "runs", "x" * 300, quote("a/b", safe="")])
def test_no_other_folder_is_looked_into(planned: Made, key: str) -> None:
    for rest in ("", "/files", "/files/plan.json", "/sheets/1", "/patterns.zip"):
        sent = planned.visitor.get(f"/runs/{key}{rest}")
        assert sent.status_code == 404 or sent.url.path in ("/", "/jobs"), sent.url


@pytest.mark.parametrize("rest", ["sheets/0", "sheets/99", "fittings/3", "fittings/1/9"])
def test_what_the_plan_does_not_have(planned: Made, rest: str) -> None:
    assert planned.visitor.get(f"{planned.path}/{rest}").status_code == 404


def test_pattern_files_are_made_when_asked_for(planned: Made) -> None:
    for _ in range(2):
        sent = planned.visitor.get(f"{planned.path}/patterns.zip")
        assert sent.headers["content-disposition"].endswith('-patterns.zip"')
        with zipfile.ZipFile(io.BytesIO(sent.content)) as archive:
            assert archive.testzip() is None
            names = archive.namelist()
    assert {"D1-wrap.dxf", "D1-wrap.svg"} <= set(names)


def test_the_page_tells_when_the_job_was_changed_since(planned: Made) -> None:
    assert "The job was changed since" not in planned.visitor.get(planned.path).text
    was = planned.desk.jobs.get(planned.job).name
    planned.visitor.post(f"/jobs/{planned.job}/name", {"name": "Elm, other", "_was": was})
    page = planned.visitor.get(planned.path).text
    assert "The job was changed since: this plan is of the job as it was before." in page
    assert "the job was changed since" in planned.visitor.get(f"/jobs/{planned.job}/plan").text


@pytest.mark.parametrize(
    ("file", "pages"),
    [
        ("view/summary.json", ("", "/files", "/sheets/1", "/fittings")),
        ("view/sheet-1.json", ("/sheets/1",)),
        ("papers/plan.json", ("/metal", "/files/plan.json")),
        ("pieces.pickle", ("/patterns.zip",)),
    ],
)
def test_what_cannot_be_read_any_more_is_told(
    planned: Made, file: str, pages: tuple[str, ...]
) -> None:
    place = planned.desk.runs.papers(planned.plan).parent
    (place / "patterns.zip").unlink(missing_ok=True)
    path = place / file
    aside = path.rename(path.with_suffix(".aside"))
    try:
        for damaged in (False, True):
            if damaged:
                path.mkdir()
            for page in pages:
                told = planned.visitor.get(f"{planned.path}{page}")
                assert told.status_code == 400, page
                assert "That did not work" in told.text
                assert "Errno" not in told.text
    finally:
        path.rmdir()
        aside.rename(path)
    assert planned.visitor.get(planned.path).status_code == 200


def test_a_plan_that_metal_is_reserved_for_is_not_deleted(planned: Made) -> None:
    plans = planned.desk.room.plans
    plans.commit(planned.plan.key, "Elm", Needs((), ()))
    told = planned.visitor.post(f"{planned.path}/discard")
    assert "Release it first" in told.text
    assert planned.visitor.get(planned.path).status_code == 200
    plans.release(planned.plan.key)
    planned.visitor.post(f"{planned.path}/discard")
    assert planned.visitor.get(planned.path).status_code == 404
    assert plans.get(planned.plan.key).told == "Its papers were deleted."
