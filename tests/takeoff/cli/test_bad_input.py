"""Whatever is wrong with what a person gives: told in a line each, exit code 2, nothing written."""

import io
from pathlib import Path

import openpyxl
import pytest

from .command import GOOD, HEADING, Command

ROWS = {
    "unknown fitting": ("D2,dukt,26,,20,,8,47,,,", 'dukt is not a fitting known here. Did you'),
    "missing dimension": ("D2,duct,26,,,,8,47,,,", 'row 3, column "width": a blank will not do'),
    "dimension of zero": ("D2,duct,26,,0,,8,47,,,", "Give more than 0, up to 600 in."),
    "dimension below zero": ("D2,duct,26,,-4,,8,47,,,", "-4 is not a length. It is below 0."),
    "dimension no length": ("D2,duct,26,,17;5,,8,47,,,", "17;5 is not a length. Write it"),
    "dimension too large": ("D2,duct,26,,601,,8,47,,,", "601 is more than 600 in."),
    "gauge of another metal": ("D2,duct,33,,20,,8,47,,,", "33 is not a gauge of galvanized."),
    "blank larger than every sheet": ("B1,box,26,,70,80,9,,,,one piece", "larger than every sheet"),
    "flange wider than the opening": ("B1,return box,26,,4,20,9,,,,", "is wider than the opening"),
    "opening outside its face": ("B1,box,26,,9,9,9,,front 12 x 4,,", "reaches outside its face"),
    "opening in an open face": ("B1,box,26,,9,9,9,,top 4 x 4,,", "is an open face"),
    "unknown edge": ("B1,box,26,,9,9,9,,,top: frill,", "frill is not in the shop profile"),
    "duplicate mark": ("D1,duct,26,,20,,8,47,,,", "D1 is the mark of row 2 too"),
    "missing mark": (",duct,26,,20,,8,47,,,", "a blank is no mark"),
    "formula": ("D2,duct,26,,=A1*2,,8,47,,,", "=A1*2 is a formula"),
    "dimension of another fitting": ("D2,duct,26,,20,5,8,47,,,", "straight duct has no depth"),
}  # fmt: skip


@pytest.mark.parametrize("name", ROWS)
def test_a_bad_row(name: str, command: Command) -> None:
    row, told = ROWS[name]
    job = command.job(f"{GOOD}{row}\n")
    for arguments in (("plan", job, "--out", "plan"), ("check", job)):
        outcome = command(*arguments)
        assert outcome.code == 2
        assert outcome.out == ""
        assert outcome.err.count("\n") == 1, "one message"
        assert outcome.err.startswith("job.csv: row 3")
        assert told in outcome.err
    assert command.files() == {"job.csv"}


def workbook(cells: list[object]) -> bytes:
    book = openpyxl.Workbook()
    book.active.append(["mark", "fitting", "gauge", "width", "height", "length"])
    book.active.append(cells)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


FILES: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "it is empty"),
    "no rows": (HEADING.encode(), "has no fitting below its heading"),
    "latin-1": (
        HEADING.encode() + "D1,duct,26,fächer".encode("latin-1"), "line 2 has the byte 0xE4",
    ),
    "picture": (b"\x89PNG\r\n\x1a\n\0\0", "which is not UTF-8"),
    "mixed separators": (b"mark;x,fitting\tgauge;width\n", "part the titles of its columns"),
    "open quotation mark": (HEADING.encode() + b'"D1,duct\n', "does not close"),
    "old workbook": (b"\xd0\xcf\x11\xe0", "an old .xls file"),
    "broken workbook": (b"PK\x03\x04rest", "it is not a sound workbook"),
    "formula in a workbook": (workbook(["D1", "duct", 26, "=4*5", 8, 47]), "=4*5 is a formula"),
    "unknown column": (b"mark,fitting,gauge,widht\nD1,duct,26,1\n", 'Did you mean "width"'),
}  # fmt: skip


@pytest.mark.parametrize("name", FILES)
def test_a_bad_file(name: str, command: Command) -> None:
    content, told = FILES[name]
    job = command.file("list", content)
    outcome = command("plan", job, "--out", "plan")
    assert outcome.code == 2
    assert outcome.err.startswith("list: ")
    assert told in outcome.err
    assert "Traceback" not in outcome.err
    assert command.files() == {"list"}


def test_all_faults_at_once(command: Command) -> None:
    outcome = command("check", command.job("D1,dukt,26,,,,,,,,\nD2,duct,99,,0,,8,x,,,\n"))
    assert outcome.err.splitlines()[0] == "job.csv: 4 faults"
    assert len(outcome.err.splitlines()) == 5


def test_a_flood_of_faults_is_cut_short(command: Command) -> None:
    rows = "".join(f"D{number},dukt,26,,,,,,,,\n" for number in range(150))
    told = command("check", command.job(rows)).err.splitlines()
    assert told[0] == "job.csv: 150 faults"
    assert len(told) == 102
    assert told[-1] == "  and 50 more faults"


def test_files_that_are_not_there(command: Command) -> None:
    job = command.job()
    for arguments, told in (
        (["nothing.csv"], "nothing.csv: the job list cannot be read: no such file"),
        ([job, "--stock", "nothing.csv"], "nothing.csv: the stock list cannot be read: No such"),
        ([job, "--profile", "no.toml"], "no.toml: the profile cannot be read: No such file"),
    ):
        outcome = command("plan", *arguments, "--out", "plan")
        assert (outcome.code, outcome.out) == (2, "")
        assert told in outcome.err
    assert command.files() == {"job.csv"}


def test_bad_stock_and_profile(command: Command) -> None:
    job = command.job()
    stock = command.file("stock.csv", "material,gauge,stock,width,length\ngalv,26,a,0,96\n")
    shop = command.file("shop.toml", "[cut]\nkerf = -1\n")
    assert "0 is not more than 0" in command("check", job, "--stock", stock).err
    assert command("check", job, "--stock", stock).code == 2
    assert "cut.kerf: -1 is not a length" in command("check", job, "--profile", shop).err
    other = command.file("other.csv", "material,gauge,stock,width,length\ngalv,24,a,48,96\n")
    assert (
        "26 has no galvanized sheet in the stock list"
        in command("check", job, "--stock", other).err
    )


def test_a_metric_job_is_told_in_millimetres(command: Command) -> None:
    job = command.job("B1,box,26,,100,100,100,,front 200 x 50,,\n", "# units = mm\n" + HEADING)
    assert "which is 100 x 100" in command("check", job).err
    job = command.job("B1,return box,26,,50,500,100,,,,\n", "# units = mm\n" + HEADING)
    assert "50 mm across" in command("check", job).err


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("plan",),
        ("plan", "job.csv"),
        ("plan", "job.csv", "--out", "plan", "--seconds", "0"),
        ("plan", "job.csv", "--out", "plan", "--seconds", "nan"),
        ("plan", "job.csv", "--out", "plan", "--seconds", "soon"),
        ("plan", "job.csv", "--out", "plan", "--seed", "-1"),
        ("plan", "job.csv", "--out", "plan", "--colour", "red"),
        ("nest", "job.csv"),
        ("fittings", "dukt"),
        ("fittings", "duct", "--units", "cm"),
    ],
)
def test_bad_arguments(arguments: tuple[str, ...], command: Command) -> None:
    command.job()
    outcome = command(*arguments)
    assert outcome.code == 2
    assert outcome.err or not arguments
    assert "Traceback" not in outcome.err
    assert command.files() == {"job.csv"}


def test_a_place_that_is_taken(command: Command) -> None:
    job = command.job()
    folder = Path("mine")
    folder.mkdir()
    (folder / "letter.txt").write_text("dear", encoding="utf-8")
    for out in ("job.csv", "mine"):
        outcome = command("plan", job, "--out", out, "--force")
        assert outcome.code == 2
        assert outcome.err.startswith(f"{out} ")
    assert command.files() == {"job.csv", "mine", "mine/letter.txt"}
