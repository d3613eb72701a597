"""Workbooks: numbers, dates, formulas, sheets, and files that are none."""

import io
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.formula import ArrayFormula

from takeoff.errors import Fault, JobFaults
from takeoff.jobs import read_xlsx as module
from takeoff.jobs.files import read_job
from takeoff.jobs.read_xlsx import read_xlsx
from takeoff.jobs.refusals import MOST_COLUMNS, MOST_ROWS
from takeoff.lengths import MILLIMETRE

TITLES = ["mark", "fitting", "gauge", "note", "width", "height", "length"]
DUCT = ["D1", "duct", 26, "by hand", 20, 8.5, "47 1/2"]


def book(*rows: list[object], more: Callable[[openpyxl.Workbook], None] | None = None) -> bytes:
    made = openpyxl.Workbook()
    for row in rows:
        made.active.append(row)
    if more:
        more(made)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def faults(data: bytes) -> tuple[Fault, ...]:
    with pytest.raises(JobFaults) as caught:
        read_xlsx(data, source="trial.xlsx")
    return caught.value.faults


def test_numbers_stay_exact() -> None:
    (line,) = read_xlsx(book(TITLES, DUCT)).lines
    card = line.fitting
    assert (card.width, card.height, card.length) == (20, 8.5, 47.5)  # type: ignore[attr-defined]
    assert (line.metal.gauge, line.note) == (26, "by hand")


def test_lines_at_the_top_and_blank_rows() -> None:
    data = book(["# job = Elm"], ["# units = mm"], [], TITLES, [], [*DUCT[:-1], "47 1/2 in"])
    job = read_xlsx(data)
    assert (job.name, job.unit, job.lines[0].row) == ("Elm", MILLIMETRE, 6)


def test_dates_are_refused_with_advice_but_for_notes() -> None:
    data = book(TITLES, [date(2026, 1, 2), "duct", 26, date(2026, 1, 2), date(2026, 1, 2), 8, 9])
    assert [str(fault) for fault in faults(data)] == [
        f'row 2, column "{title}": 2026-01-02 00:00:00 is a date to the spreadsheet. Format the '
        "cell as text and write it again, such as 17 1/2."
        for title in ("mark", "width")
    ]


def test_formulas_are_never_worked_out() -> None:
    data = book(TITLES, ["=D1", "duct", 26, "=1+1", "=2*10", 8, ArrayFormula("G2", "=SUM(1,2)")])
    assert [(fault.column, fault.value) for fault in faults(data)] == [
        ("width", "=2*10"),
        ("length", "=SUM(1,2)"),
    ]
    (line,) = read_xlsx(book(TITLES, ["=D1", "duct", 26, "=1+1", 20, 8, 9])).lines
    assert (line.mark, line.note) == ("=D1", "=1+1")


def test_errors_of_the_spreadsheet() -> None:
    (fault,) = faults(book(TITLES, ["D1", "duct", 26, None, "#DIV/0!", 8, 9]))
    assert (fault.column, fault.problem) == ("width", "is an error of the spreadsheet")


def test_the_sheet_with_the_list_is_found() -> None:
    def more(made: openpyxl.Workbook) -> None:
        made.create_sheet("empty")

    assert len(read_xlsx(book(TITLES, DUCT, more=more)).lines) == 1


def test_among_several_sheets_the_one_called_job() -> None:
    def more(made: openpyxl.Workbook) -> None:
        made.create_sheet("Prices", 0).append(["a", "b"])

    (fault,) = faults(book(TITLES, DUCT, more=more))
    assert "several of its sheets have something in them: Prices, Sheet" in fault.problem
    assert fault.allowed == 'Call the one with the job list "job".'

    def named(made: openpyxl.Workbook) -> None:
        made.active.title = "Job"
        more(made)

    assert len(read_xlsx(book(TITLES, DUCT, more=named)).lines) == 1


def test_an_empty_workbook() -> None:
    assert "it is empty" in faults(book())[0].problem


def test_a_workbook_that_is_too_large(monkeypatch: pytest.MonkeyPatch) -> None:
    def far(made: openpyxl.Workbook) -> None:
        made.active.cell(3, 16_384).value = "x"

    assert (
        f"row 3 has more than {MOST_COLUMNS} cells"
        in faults(book(TITLES, DUCT, more=far))[0].problem
    )

    def low(made: openpyxl.Workbook) -> None:
        made.active.cell(1_048_576, 1).value = "x"

    assert f"more than {MOST_ROWS} rows" in faults(book(TITLES, DUCT, more=low))[0].problem
    monkeypatch.setattr(module, "MOST_UNPACKED", 1000)
    assert "unpacked it is larger" in faults(book(TITLES, DUCT))[0].problem


def test_a_packed_bomb_is_refused_before_it_is_unpacked() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("xl/worksheets/sheet1.xml", bytes(70_000_000))
    assert len(out.getvalue()) < 100_000
    assert "unpacked it is larger than 60 MB" in faults(out.getvalue())[0].problem


@pytest.mark.parametrize("cut", [4, 100, 2000, -200])
def test_a_broken_workbook(cut: int) -> None:
    (fault,) = faults(book(TITLES, DUCT)[:cut])
    assert "it is not a sound workbook" in fault.problem


def test_a_zip_that_is_no_workbook() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as parts:
        parts.writestr("a.txt", "hello")
    assert "it is not a sound workbook" in faults(out.getvalue())[0].problem


def test_the_bytes_of_a_file_tell_its_format(tmp_path: Path) -> None:
    path = tmp_path / "elm.csv"
    path.write_bytes(book(TITLES, DUCT))
    assert read_job(path).name == "elm"


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "it is an old .xls file, or has a password"),
        (b"%PDF-1.7\x00", "line 1 is no text, it has a zero byte"),
        (b"", "it is empty"),
    ],
)
def test_files_that_are_no_list(tmp_path: Path, data: bytes, reason: str) -> None:
    path = tmp_path / "list.xlsx"
    path.write_bytes(data)
    with pytest.raises(JobFaults, match=reason):
        read_job(path)


def test_no_such_file(tmp_path: Path) -> None:
    with pytest.raises(JobFaults, match=r"list\.csv: the job list cannot be read: no such file"):
        read_job(tmp_path / "list.csv")
    with pytest.raises(JobFaults, match="cannot be read: is a directory"):
        read_job(tmp_path)
    large = tmp_path / "large.csv"
    large.write_bytes(bytes(20_000_001))
    with pytest.raises(JobFaults, match="it is larger than 20 MB"):
        read_job(large)
