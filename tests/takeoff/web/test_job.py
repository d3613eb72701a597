"""The page of one job: rows, their order, faults with the way to mend them."""

import re

import pytest

from takeoff.web.desk import Desk
from takeoff.web.pages.job import A_PAGE

from .conftest import Visitor
from .jobs_kept import BAKERY, DUCT, cells, kept

LARGEST = 300_000


def marks(desk: Desk, number: int) -> list[str]:
    return [row.cells["mark"] for row in desk.jobs.get(number).rows]


def test_rows_are_shown_with_sizes_and_pictures(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, {**DUCT, "qty": "2", "note": "<i>up</i>"})
    page = visitor.get(f"/jobs/{job.id}").text
    for words in ("D1", "2 alike", "galvanized 26 ga", "&lt;i&gt;up", "2 fittings"):
        assert words in page
    (drawn,) = re.findall(r'src="(/jobs/[^"]+)"', page)
    assert "<path" in visitor.get(drawn).text


def test_the_throat_of_an_elbow_is_on_its_card(visitor: Visitor, desk: Desk) -> None:
    elbow = {"mark": "E1", "fitting": "elbow", "gauge": "26", "width": "18", "height": "8"}
    job = kept(desk, elbow, {**elbow, "mark": "E2", "throat": "4 1/2"})
    page = " ".join(visitor.get(f"/jobs/{job.id}").text.split())
    assert '<span class="quiet">Throat</span> 6</span>' in page
    assert '<span class="quiet">Throat</span> 4 1/2</span>' in page


def test_move_and_copy(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT, {**DUCT, "mark": "D2"})
    path = f"/jobs/{job.id}/rows/{job.rows[1].key}"
    visitor.post(f"{path}/move", {"_way": "up"})
    assert marks(desk, job.id) == ["D2", "D1"]
    visitor.post(f"{path}/move", {"_way": "up"})
    assert marks(desk, job.id) == ["D2", "D1"]
    visitor.post(f"{path}/move", {"_way": "down"})
    assert marks(desk, job.id) == ["D1", "D2"]
    page = visitor.post(f"/jobs/{job.id}/rows/{job.rows[0].key}/copy")
    assert marks(desk, job.id) == ["D1", "D3", "D2"]
    assert cells(desk, job)[1] == {**DUCT, "mark": "D3"}
    assert "<h1>D3: straight duct</h1>" in page.text


def test_a_copied_job_is_another_job(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    visitor.post(f"/jobs/{job.id}/copy")
    new = next(head for head in desk.jobs.all() if head.id != job.id)
    assert new.name == "Elm, copied"
    assert marks(desk, new.id) == ["D1"]
    desk.jobs.delete(new.id)
    assert marks(desk, job.id) == ["D1"]


def test_faults_lead_to_their_rows(visitor: Visitor, desk: Desk) -> None:
    wrong = {**DUCT, "width": "0", "mark": "D2"}
    job = kept(desk, {**DUCT, "connects_to": "E9"}, wrong)
    page = visitor.get(f"/jobs/{job.id}").text
    assert "1 fault in the list" in page
    where = (
        f'<a href="/jobs/{job.id}/rows/{job.rows[1].key}">row 5, column &#34;width&#34;: 0 is not'
    )
    assert where in page
    check = visitor.get(f"/jobs/{job.id}/check", headers={"HX-Request": "true"}).text
    assert "E9 is no mark of this job" in check
    assert f'href="/jobs/{job.id}/rows/{job.rows[0].key}"' in check
    assert "<html" not in check
    assert "<html" in visitor.get(f"/jobs/{job.id}/check").text


def test_a_sound_job_can_be_made(visitor: Visitor, desk: Desk) -> None:
    visitor.post("/jobs/import", files={"list": ("bakery.csv", BAKERY.read_bytes())})
    (head,) = desk.jobs.all()
    assert "All of it can be made: 46 blanks." in visitor.get(f"/jobs/{head.id}/check").text


def test_what_the_shear_cannot_cut_is_told(visitor: Visitor, desk: Desk) -> None:
    desk.book.file.write_text("[shear]\nlength = 52\n")
    job = kept(
        desk, {"mark": "C1", "fitting": "end cap", "gauge": "26", "width": "70", "height": "8"}
    )
    check = visitor.get(f"/jobs/{job.id}/check").text
    assert "1 blank cannot be cut on the shear" in check
    assert "C1 cap cannot be sheared: the blank is 72 x 10 in" in check
    assert "All of it can be made" not in check


def test_a_transition_that_changes_nothing_is_told(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, {**DUCT, "mark": "T1", "fitting": "transition"})
    check = visitor.get(f"/jobs/{job.id}/check").text
    assert "T1: its second opening is as large as the first and in line with it" in check
    assert "All of it can be made" in check


def test_what_cannot_be_made_is_told(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, {**DUCT, "fitting": "plenum", "length": "", "depth": "100", "width": "200"})
    check = visitor.get(f"/jobs/{job.id}/check").text
    assert "1 fitting cannot be made" in check
    assert "larger than every sheet in stock" in check


@pytest.mark.parametrize(
    "page", ["", "?page=2", "?page=99", "?page=-1", "?page=x", "?page=" + "9" * 50]
)
def test_a_long_list_is_shown_in_pages(visitor: Visitor, desk: Desk, page: str) -> None:
    rows = [{**DUCT, "mark": f"D{number}", "note": "n" * 200} for number in range(2 * A_PAGE + 1)]
    job = kept(desk, *rows)
    shown = visitor.get(f"/jobs/{job.id}{page}")
    assert len(shown.content) < LARGEST
    assert shown.text.count('class="card"') == (1 if "99" in page and len(page) < 20 else A_PAGE)


def test_a_list_full_of_faults_is_told_in_part(visitor: Visitor, desk: Desk) -> None:
    rows = [{**DUCT, "mark": f"D{number}", "width": f"{'9' * 400} 1/"} for number in range(300)]
    job = kept(desk, *rows)
    page = visitor.get(f"/jobs/{job.id}")
    assert "300 faults in the list" in page.text
    assert "and 200 more" in page.text
    assert len(page.content) < LARGEST


def test_a_job_without_rows(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk)
    assert "Nothing measured yet" in visitor.get(f"/jobs/{job.id}").text
    assert visitor.get(f"/jobs/{job.id}/check").status_code == 200
    assert visitor.get(f"/jobs/{job.id}/job.csv").status_code == 200
