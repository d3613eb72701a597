"""Two people on one job: the later one is told, and nothing of either is lost."""

import pytest

from takeoff.stockroom import StoredJob, StoredRow
from takeoff.web.desk import Desk
from takeoff.web.rows import OthersWere, digest, on_row

from .conftest import Visitor, inputs
from .jobs_kept import DUCT, cells, kept


def opened(visitor: Visitor, job: StoredJob, place: int = 0) -> tuple[str, dict[str, str]]:
    """The address of a row and what its form holds."""
    path = f"/jobs/{job.id}/rows/{job.rows[place].key}"
    shown = inputs(visitor.get(path).text)
    return path, {"_base": shown["_base"], "_fitting": shown["_fitting"]}


def test_the_later_one_sees_both(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    path, base = opened(visitor, job)
    visitor.post(path, {**DUCT, **base, "width": "22", "note": "<b>theirs</b>"})
    page = visitor.post(path, {**DUCT, **base, "width": "24"})
    assert page.status_code == 409
    assert "D1 was changed by someone else" in page.text
    assert "<td>22</td><td>24</td>" in page.text
    assert "&lt;b&gt;theirs" in page.text
    theirs = {**DUCT, "width": "22", "note": "<b>theirs</b>"}
    assert cells(desk, job) == [theirs]

    mine = {**DUCT, "width": "24"}
    fresh = {"_base": inputs(page.text)["_base"], "_fitting": "straight duct", "_do": "keep"}
    both = visitor.post(f"/jobs/{job.id}/add/straight-duct", {**mine, "mark": "D2", "_do": "keep"})
    assert "D2 is kept." in both.text
    assert cells(desk, job) == [theirs, {**mine, "mark": "D2"}]
    assert "D1 is kept." in visitor.post(path, {**mine, **fresh}).text
    assert cells(desk, job)[0] == mine


def test_the_same_change_twice_is_no_conflict(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    path, base = opened(visitor, job)
    for _ in range(2):
        page = visitor.post(path, {**DUCT, **base, "width": "22"})
        assert "D1 is kept." in page.text
    assert cells(desk, job) == [{**DUCT, "width": "22"}]


def test_different_rows_do_not_conflict(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT, {**DUCT, "mark": "D2"})
    first, base = opened(visitor, job)
    second, other = opened(visitor, job, 1)
    visitor.post(second, {**DUCT, **other, "mark": "D2", "width": "9"})
    visitor.post(f"/jobs/{job.id}/rows/{job.rows[1].key}/move", {"_way": "up"})
    visitor.post(f"/jobs/{job.id}/add/straight-duct", {**DUCT, "mark": "D3"})
    assert "D1 is kept." in visitor.post(first, {**DUCT, **base, "width": "7"}).text
    assert [(row["mark"], row["width"]) for row in cells(desk, job)] == [
        ("D2", "9"),
        ("D1", "7"),
        ("D3", "20"),
    ]


def test_a_row_that_was_deleted_can_be_kept_after_all(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    path, base = opened(visitor, job)
    asked = inputs(visitor.get(f"{path}/delete").text)
    assert "D1 is deleted." in visitor.post(f"{path}/delete", {"_base": asked["_base"]}).text
    page = visitor.post(path, {**DUCT, **base, "width": "24"})
    assert page.status_code == 409
    assert "was deleted by someone else" in page.text
    visitor.post(f"/jobs/{job.id}/add/straight-duct", {**DUCT, "width": "24", "_do": "keep"})
    assert cells(desk, job) == [{**DUCT, "width": "24"}]


def test_a_row_changed_since_it_was_to_be_deleted_stays(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    path, base = opened(visitor, job)
    asked = inputs(visitor.get(f"{path}/delete").text)
    visitor.post(path, {**DUCT, **base, "width": "24"})
    page = visitor.post(f"{path}/delete", {"_base": asked["_base"]})
    assert page.status_code == 409
    assert "changed in the meantime" in page.text
    assert "<dd>24</dd>" in page.text
    assert cells(desk, job) == [{**DUCT, "width": "24"}]


def test_a_row_moved_meanwhile_is_still_the_same(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT, {**DUCT, "mark": "D2"})
    path, base = opened(visitor, job)
    visitor.post(f"{path}/move", {"_way": "down"})
    assert "D1 is kept." in visitor.post(path, {**DUCT, **base, "width": "24"}).text
    assert cells(desk, job)[1] == {**DUCT, "width": "24"}


def test_what_others_write_between_reading_and_writing_is_seen(desk: Desk) -> None:
    job = kept(desk, DUCT)
    key, base = job.rows[0].key, digest(job.rows[0])

    def save(now: StoredJob, row: StoredRow) -> StoredJob:
        return desk.jobs.save_row(now.id, key, {"mark": "mine"}, row.version)

    desk.jobs.rename(job.id, "theirs")
    assert on_row(job, key, save, base).name == "theirs"
    with pytest.raises(OthersWere) as others:
        on_row(job, key, save, base)
    assert others.value.row is not None
    assert dict(others.value.row.cells) == {"mark": "mine"}
    assert dict(on_row(others.value.job, key, save).rows[0].cells) == {"mark": "mine"}


def test_copying_moving_and_deleting_a_row_that_others_deleted_is_told(
    visitor: Visitor, desk: Desk
) -> None:
    job = kept(desk, DUCT, {**DUCT, "mark": "D2"})
    path = f"/jobs/{job.id}/rows/{job.rows[0].key}"
    base = inputs(visitor.get(f"{path}/delete").text)["_base"]
    visitor.post(f"{path}/delete", {"_base": base})
    for what, sent in (("copy", {}), ("move", {"_way": "down"}), ("delete", {"_base": base})):
        page = visitor.post(f"{path}/{what}", sent)
        assert "This row was deleted in the meantime." in page.text, what
    assert [row["mark"] for row in cells(desk, job)] == ["D2"]


def test_copying_naming_and_deleting_a_job_that_others_deleted_is_told(
    visitor: Visitor, desk: Desk
) -> None:
    job = kept(desk, DUCT)
    asked = inputs(visitor.get(f"/jobs/{job.id}/delete").text)["_version"]
    visitor.post(f"/jobs/{job.id}/delete", {"_version": asked})
    for what, sent in (("copy", {}), ("name", {"name": "x"}), ("delete", {"_version": asked})):
        assert visitor.post(f"/jobs/{job.id}/{what}", sent).status_code == 404, what
    assert not desk.jobs.all()
