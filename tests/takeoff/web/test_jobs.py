"""The list of jobs: start, rename, copy, delete."""

import pytest

from takeoff.lengths import INCH, MILLIMETRE
from takeoff.web.desk import Desk

from .conftest import Visitor, inputs

NAMES = ("Elm Street 4", "<script>alert(1)</script>", "'; DROP TABLE jobs; --", '"><img src=x>')


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_kept_as_it_is_and_shown_as_text(visitor: Visitor, desk: Desk, name: str) -> None:
    page = visitor.post("/jobs", {"name": name})
    (job,) = desk.jobs.all()
    assert job.name == name
    assert page.url.path == f"/jobs/{job.id}"
    for shown in (page.text, visitor.get("/jobs").text, visitor.get(f"/jobs/{job.id}/delete").text):
        assert "<script>alert" not in shown
        assert "<img src=x" not in shown
        assert inputs(shown)["_csrf"]


def test_the_first_page_is_the_list_of_jobs(visitor: Visitor) -> None:
    page = visitor.get("/")
    assert page.url.path == "/jobs"
    assert "No job yet" in page.text


@pytest.mark.parametrize(
    ("name", "told"), [("", "needs a name"), (" ", "needs"), ("n" * 121, "shorter")]
)
def test_a_name_that_will_not_do_is_told_and_kept(
    visitor: Visitor, desk: Desk, name: str, told: str
) -> None:
    page = visitor.post("/jobs", {"name": name})
    assert page.status_code == 422
    assert told in page.text
    assert inputs(page.text)["name"] == name.strip()
    assert not desk.jobs.all()


def test_units(visitor: Visitor, desk: Desk) -> None:
    visitor.post("/jobs", {"name": "a", "units": "mm"})
    visitor.post("/jobs", {"name": "b", "units": "furlongs"})
    units = {head.name: desk.jobs.get(head.id).unit for head in desk.jobs.all()}
    assert units == {"a": MILLIMETRE, "b": INCH}


def test_rename(visitor: Visitor, desk: Desk) -> None:
    job = desk.jobs.create("old", INCH)
    sent = {"name": "new", "_was": inputs(visitor.get(f"/jobs/{job.id}").text)["_was"]}
    assert "is now called new." in visitor.post(f"/jobs/{job.id}/name", sent).text
    assert "is now called new." in visitor.post(f"/jobs/{job.id}/name", sent).text
    assert "needs a name" in visitor.post(f"/jobs/{job.id}/name", {"name": ""}).text
    assert desk.jobs.get(job.id).name == "new"


def test_a_name_that_others_changed_meanwhile_is_told(visitor: Visitor, desk: Desk) -> None:
    job = desk.jobs.create("old", INCH)
    visitor.post(f"/jobs/{job.id}/name", {"name": "<i>theirs", "_was": "old"})
    late = visitor.post(f"/jobs/{job.id}/name", {"name": "mine", "_was": "old"})
    assert late.status_code == 409
    assert "Someone else called this job &lt;i&gt;theirs meanwhile" in late.text
    assert desk.jobs.get(job.id).name == "<i>theirs"
    shown = inputs(late.text)
    again = {"name": shown["name"], "_was": shown["_was"]}
    assert "is now called mine." in visitor.post(f"/jobs/{job.id}/name", again).text


def test_a_deletion_is_asked_for_twice(visitor: Visitor, desk: Desk) -> None:
    job = desk.jobs.create("old", INCH)
    asked = visitor.get(f"/jobs/{job.id}/delete")
    assert desk.jobs.all()
    sent = {"_version": inputs(asked.text)["_version"]}
    visitor.post(f"/jobs/{job.id}/name", {"name": "changed", "_was": "old"})
    for stale in (sent, {}, {"_version": "x"}, {"_version": "9" * 40}, {"_version": "-1"}):
        late = visitor.post(f"/jobs/{job.id}/delete", stale)
        assert late.status_code == 409
        assert "changed in the meantime" in late.text
    assert desk.jobs.all()
    sent = {"_version": inputs(late.text)["_version"]}
    assert "changed is deleted." in visitor.post(f"/jobs/{job.id}/delete", sent).text
    assert not desk.jobs.all()


@pytest.mark.parametrize(
    "path", ["/jobs/9", "/jobs/9/add", "/jobs/9/job.csv", "/jobs/9/check", "/x"]
)
def test_what_is_not_there(visitor: Visitor, path: str) -> None:
    page = visitor.get(path)
    assert page.status_code == 404
    assert "<h1>That did not work</h1>" in page.text
