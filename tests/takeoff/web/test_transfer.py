"""Job lists in from a file and out to one: nothing is lost on the way, nothing is kept by half."""

import io
from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.fittings import families
from takeoff.jobs.cells import text
from takeoff.jobs.files import cells_of
from takeoff.jobs.job import Job
from takeoff.jobs.rows import read_rows
from takeoff.jobs.table import Table, job_table
from takeoff.jobs.write_csv import csv_text
from takeoff.jobs.write_xlsx import xlsx_bytes
from takeoff.lengths import INCH
from takeoff.web.desk import Desk
from takeoff.web.guard import MOST_SENT

from .conftest import Visitor
from .jobs_kept import BAKERY, DUCT, cells, kept

EXAMPLES = [
    {"fitting": family.kind, **example}
    for family in families().values()
    for example in family.examples
]


def bring(visitor: Visitor, data: bytes, name: str = "list.csv") -> str:
    return visitor.post("/jobs/import", files={"list": (name, data)}).text


def read(data: bytes) -> Job:
    job = read_rows(cells_of(data), "list")
    return replace(job, lines=tuple(replace(line, row=0) for line in job.lines))


def out(visitor: Visitor, desk: Desk, ending: str) -> bytes:
    (head,) = desk.jobs.all()
    return visitor.get(f"/jobs/{head.id}/job.{ending}").content


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_the_demo_job_comes_back_equal(visitor: Visitor, desk: Desk, ending: str) -> None:
    assert "16 rows" in bring(visitor, BAKERY.read_bytes(), "bakery.csv")
    assert read(out(visitor, desk, ending)) == read(BAKERY.read_bytes())


printed = st.text(st.characters(codec="utf-8"), max_size=20).map(text)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """A sound job list of any families, with any marks and notes."""
    rows: list[Mapping[str, str]] = []
    examples = draw(st.lists(st.sampled_from(EXAMPLES), min_size=1, max_size=6))
    for number, example in enumerate(examples):
        mark = draw(st.sampled_from(["D", "=1+", "'=", "-", "<b>", "é"]))
        rows.append(
            {
                **example,
                "mark": f"{mark}{number}",
                "gauge": draw(st.sampled_from(["26", "24 ga", "22"])),
                "qty": draw(st.sampled_from(["", "3"])),
                "material": draw(st.sampled_from(["", "galv", "galvanized"])),
                "note": draw(printed),
            }
        )
    return job_table(draw(printed), INCH, rows)


@settings(
    deadline=None, max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(table=tables(), came=st.sampled_from(["csv", "xlsx"]), goes=st.sampled_from(["csv", "xlsx"]))
def test_any_list_comes_back_equal(
    visitor: Visitor, desk: Desk, table: Table, came: str, goes: str
) -> None:
    for head in desk.jobs.all():
        desk.jobs.delete(head.id)
    data = csv_text(table).encode() if came == "csv" else xlsx_bytes(table)
    page = bring(visitor, data)
    assert "is not brought in" not in page, page
    assert read(out(visitor, desk, goes)) == read(data)


def test_what_is_written_is_kept_as_it_is_written(visitor: Visitor, desk: Desk) -> None:
    bring(visitor, b"mark,fitting,gauge,width,height,length\nD1,duct,auto,14-1/2,8,3' 11\"\n")
    (head,) = desk.jobs.all()
    assert head.name == "list"
    (row,) = desk.jobs.get(head.id).rows
    assert dict(row.cells) == {
        "mark": "D1",
        "fitting": "duct",
        "gauge": "auto",
        "width": "14-1/2",
        "height": "8",
        "length": "3' 11\"",
    }


def test_faults_are_told_row_by_row_and_nothing_is_kept(visitor: Visitor, desk: Desk) -> None:
    page = bring(
        visitor,
        b"mark,fitting,gauge,width,height,length\nD1,duct,26,20,8,47\n"
        b"<script>x</script>,duct,26,0,8,1/\nD3,duckt,99,1,1,1\n",
        "<img src=x>.csv",
    )
    assert not desk.jobs.all()
    assert "&lt;img src=x&gt;.csv is not brought in" in page
    assert "row 3, column &#34;width&#34;: 0 is not more than 0" in page
    assert "row 3, column &#34;length&#34;: 1/ is not a length" in page
    assert "row 4, column &#34;fitting&#34;: duckt is not a fitting known here" in page
    assert "<script>x" not in page


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "it is empty"),
        (b"\xff\xff", "is not UTF-8"),
        (b"PK\x03\x04 not a zip", "not a sound workbook"),
        (b"\xd0\xcf\x11\xe0 old", "old .xls file"),
        (b"mark,fitting,gauge\n", "no fitting below its heading"),
    ],
)
def test_files_that_are_no_job_list(visitor: Visitor, desk: Desk, data: bytes, told: str) -> None:
    assert told in bring(visitor, data, "../../etc/passwd")
    assert not desk.jobs.all()


def test_no_file(visitor: Visitor) -> None:
    assert "No file was chosen" in visitor.post("/jobs/import", {"units": "in"}).text


def test_a_file_that_is_too_large_is_refused(visitor: Visitor, desk: Desk) -> None:
    page = visitor.post("/jobs/import", files={"list": ("a.csv", io.BytesIO(bytes(MOST_SENT + 1)))})
    assert page.status_code == 413
    assert not desk.jobs.all()


def test_a_file_of_no_told_size_is_counted_while_it_comes(visitor: Visitor, desk: Desk) -> None:
    def body() -> object:
        for _ in range(25):
            yield bytes(1_000_000)

    headers = {"Content-Type": "multipart/form-data; boundary=x", "X-CSRF-Token": visitor.token()}
    page = visitor.client.post("/jobs/import", content=body(), headers=headers)  # type: ignore[arg-type]
    assert page.status_code in (400, 413)
    assert not desk.jobs.all()


def test_names_of_files_that_are_sent(visitor: Visitor, desk: Desk) -> None:
    job = kept(desk, DUCT, name='"; rm -rf / \r\n <x>')
    for ending in ("csv", "xlsx"):
        sent = visitor.get(f"/jobs/{job.id}/job.{ending}").headers["content-disposition"]
        assert sent == f'attachment; filename="rm-rf-x.{ending}"'
    assert cells(desk, job) == [DUCT]
