"""The form of a fitting: made from its model, read by the reader of job lists, nothing lost."""

import re
from collections.abc import Mapping

import pytest

from takeoff.errors import JobFaults
from takeoff.fittings import Fitting, families
from takeoff.jobs.cells import text
from takeoff.jobs.rows import read_rows
from takeoff.jobs.table import job_table
from takeoff.lengths import INCH, MILLIMETRE, Unit
from takeoff.web.desk import Desk
from takeoff.web.reading import read_stored

from .conftest import Visitor, inputs
from .jobs_kept import DUCT, cells, kept

FAMILIES = list(families().values())
EXAMPLES = [(family, cells) for family in FAMILIES for cells in family.examples]
LARGEST = 300_000


def slug(family: type[Fitting]) -> str:
    return family.kind.replace(" ", "-")


@pytest.mark.parametrize("family", FAMILIES)
def test_the_form_of_every_family(visitor: Visitor, desk: Desk, family: type[Fitting]) -> None:
    job = kept(desk)
    page = visitor.get(f"/jobs/{job.id}/add/{slug(family)}")
    assert page.status_code == 200
    ids = set(re.findall(r' id="([^"]+)"', page.text))
    for name, field in family.model_fields.items():
        assert f'name="{name}"' in page.text
        assert f'<label for="in-{name}"' in page.text
        assert text(field.description or "no description") in page.text.replace("&#39;", "'")
    for told in re.findall(r'aria-describedby="([^"]+)"', page.text):
        assert set(told.split()) <= ids
    assert len(ids) == len(re.findall(r' id="', page.text)), "an id is there twice"


@pytest.mark.parametrize("family", FAMILIES)
def test_what_makes_it_what_it_is_stands_open_among_the_sizes(
    visitor: Visitor, desk: Desk, family: type[Fitting]
) -> None:
    page = visitor.get(f"/jobs/{kept(desk).id}/add/{slug(family)}").text
    _, _, folded = page.partition("<details>")
    assert 'name="note"' in folded
    for name, field in family.model_fields.items():
        open_to_see = field.is_required() or name in family.measured
        assert (f'name="{name}"' in folded) is not open_to_see, name


@pytest.mark.parametrize("unit", [INCH, MILLIMETRE])
@pytest.mark.parametrize(("family", "example"), EXAMPLES)
def test_what_is_filled_in_reads_as_the_reader_has_it(
    visitor: Visitor, desk: Desk, family: type[Fitting], example: Mapping[str, str], unit: Unit
) -> None:
    """In millimetres an example may well be refused: then by the form as by the reader."""
    job = kept(desk, unit=unit)
    filled = {"mark": "X1", "gauge": "24", **example}
    page = visitor.post(f"/jobs/{job.id}/add/{slug(family)}", {**filled, "_do": "keep"})
    assert page.status_code == 200
    read = read_stored(desk.jobs.get(job.id), desk.shop().profile.code)
    try:
        table = job_table("Elm", unit, [{**filled, "fitting": family.kind}])
        wanted: tuple[object, ...] = read_rows(table).lines
    except JobFaults as error:
        assert unit == MILLIMETRE
        assert read.faults == error.faults
        wanted = ()
    assert tuple(read.lines.values()) == wanted


@pytest.mark.parametrize(("family", "example"), EXAMPLES)
def test_the_preview_of_every_example(
    visitor: Visitor, desk: Desk, family: type[Fitting], example: Mapping[str, str]
) -> None:
    job = kept(desk)
    filled = {"mark": "X1", "gauge": "24", **example}
    page = visitor.post(
        f"/jobs/{job.id}/preview/{slug(family)}", filled, headers={"HX-Request": "true"}
    )
    assert page.status_code == 200
    assert page.text.count("<svg ") >= 2, page.text
    assert len(page.content) < LARGEST


def test_the_preview_says_what_is_still_needed_and_spares_what_is_untouched(
    visitor: Visitor, desk: Desk
) -> None:
    job = kept(desk)
    page = visitor.post(f"/jobs/{job.id}/preview/end-cap", {"mark": "E1", "width": "0"}).text
    assert "Still needed: Height, Gauge." in page
    wrong = dict(re.findall(r'id="wrong-(\w+)"[^>]*>([^<]*)</p>', page))
    assert wrong["width"] == "0 is not more than 0. Give more than 0, up to 600 in."
    assert wrong["height"] == wrong["gauge"] == ""


def test_nothing_is_lost_on_a_fault(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT)
    filled = {**DUCT, "width": '20 1/ <b>"', "seam": "'; DROP TABLE jobs;--", "note": "a note"}
    page = visitor.post(f"/jobs/{job.id}/add/straight-duct", filled)
    assert page.status_code == 422
    shown = inputs(page.text)
    assert {name: shown[name] for name in ("mark", "width", "seam", "note", "length")} == {
        name: filled[name] for name in ("mark", "width", "seam", "note", "length")
    }
    assert "<option selected>26</option>" in page.text
    assert "D1 is the mark of row 4 too" in page.text
    assert "is not a length" in page.text
    assert "<b>" not in page.text.replace("<b>2 alike", "")
    assert cells(desk, job) == [DUCT]
    page = visitor.post(f"/jobs/{job.id}/add/straight-duct", {**filled, "_do": "keep"})
    assert "It still has faults" in page.text
    assert cells(desk, job)[1] == {**filled, "fitting": "straight duct"}
    assert "3 faults in the list" not in page.text
    assert "row 5, column &#34;width&#34;: 20 1/ &lt;b&gt;&#34; is not a length" in page.text


def test_what_the_shop_cannot_make_is_told_beside_its_field(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk)
    page = visitor.post(f"/jobs/{job.id}/add/straight-duct", {**DUCT, "seam": "glue"})
    assert page.status_code == 422
    wrong = dict(re.findall(r'id="wrong-(\w+)"[^>]*>([^<]*)</p>', page.text))
    assert "glue" in wrong["seam"]


def test_without_a_script_the_picture_comes_when_it_is_asked_for(
    visitor: Visitor, desk: Desk
) -> None:
    job = kept(desk)
    page = visitor.post(f"/jobs/{job.id}/add/straight-duct", {**DUCT, "_do": "look"})
    assert page.status_code == 200
    assert "D1 wrap" in page.text
    assert page.text.count("<svg ") >= 2
    assert not cells(desk, job)


def test_a_new_fitting_takes_over_the_metal_and_gets_a_mark(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, {**DUCT, "mark": "sd1", "material": "aluminum", "gauge": "22"})
    page = visitor.get(f"/jobs/{job.id}/add/straight-duct").text
    assert inputs(page)["mark"] == "SD2"
    assert "<option selected>22</option>" in page


def test_edit(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT, {**DUCT, "mark": "D2"})
    row = job.rows[0]
    page = visitor.get(f"/jobs/{job.id}/rows/{row.key}")
    shown = inputs(page.text)
    assert (shown["width"], shown["mark"]) == ("20", "D1")
    sent = {**DUCT, "width": "21 1/4", "_base": shown["_base"], "_fitting": shown["_fitting"]}
    page = visitor.post(f"/jobs/{job.id}/rows/{row.key}", sent)
    assert "D1 is kept." in page.text
    assert cells(desk, job) == [{**DUCT, "width": "21 1/4"}, {**DUCT, "mark": "D2"}]


@pytest.mark.parametrize("path", ["add/nothing", "add/%3Cscript%3E", "add/..%2f..%2fetc"])
def test_a_family_that_is_not_there(visitor: Visitor, desk: Desk, path: str) -> None:
    job = kept(desk)
    page = visitor.get(f"/jobs/{job.id}/{path}")
    assert page.status_code == 404
    assert "<script>" not in page.text


def test_a_row_that_is_not_there(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk)
    assert "deleted in the meantime" in visitor.get(f"/jobs/{job.id}/rows/0").text
    assert "deleted in the meantime" in visitor.get(f"/jobs/{job.id}/rows/0/delete").text
    assert "deleted in the meantime" in visitor.post(f"/jobs/{job.id}/rows/0/copy").text


def test_the_pictures_to_pick_from(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk)
    page = visitor.get(f"/jobs/{job.id}/add").text
    pictures = re.findall(r'src="(/families/[^"]+)"', page)
    assert len(pictures) == len(FAMILIES)
    for address in pictures:
        drawn = visitor.get(address)
        assert drawn.headers["content-type"] == "image/svg+xml"
        assert "<path" in drawn.text
