"""Job lists that mean harm: refused in a sentence and in bearable time."""

import csv
import io
import time
import zipfile
from collections.abc import Callable

import openpyxl
import pytest

from takeoff.web.desk import Desk

from .conftest import Visitor, inputs
from .jobs_kept import kept

LONGEST = 20
"""Seconds that any of them may take, on a busy machine."""
HEADING = b"mark,fitting,gauge,width,height,length,note\n"
DUCT = b"D1,duct,26,20,8,47,\n"
BOOK = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def workbook(sheet: str, more: dict[str, bytes] | None = None) -> bytes:
    """A workbook whose only sheet is the XML given, and whose parts are those given."""
    sound = io.BytesIO()
    openpyxl.Workbook().save(sound)
    out = io.BytesIO()
    with zipfile.ZipFile(sound) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            if name.startswith("xl/worksheets/"):
                data = sheet.encode()
            new.writestr(name, (more or {}).get(name, data))
        for name in set(more or {}) - set(old.namelist()):
            new.writestr(name, (more or {})[name])
    return out.getvalue()


def rows(xml: str, before: str = "", size: str = "A1:B2") -> str:
    return (
        f'<?xml version="1.0"?>{before}<worksheet xmlns="{BOOK}"><dimension ref="{size}"/>'
        f"<sheetData>{xml}</sheetData></worksheet>"
    )


def cell(place: str, words: str) -> str:
    return f'<c r="{place}" t="inlineStr"><is><t>{words}</t></is></c>'


SHARED = '<c t="s"><v>0</v></c>'
"""A cell that tells the first of the shared texts."""


def shared(words: str, before: str = "") -> dict[str, bytes]:
    """The part of a workbook with one shared text."""
    texts = f'{before}<sst xmlns="{BOOK}"><si><t>{words}</t></si></sst>'
    return {"xl/sharedStrings.xml": texts.encode()}


def packed(**parts: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name, data in parts.items():
            new.writestr(name, data)
    return out.getvalue()


def many_sheets(count: int) -> bytes:
    book = openpyxl.Workbook(write_only=True)
    for number in range(count):
        book.create_sheet(f"s{number}").append(["x"])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


LAUGHS = "<!DOCTYPE x [<!ENTITY a0 'ha'>" + "".join(
    f"<!ENTITY a{n} '{f'&a{n - 1};' * 10}'>" for n in range(1, 10)
)
OUTSIDE = '<!DOCTYPE x [<!ENTITY f SYSTEM "file:///etc/passwd">]>'


REFUSED: dict[str, Callable[[], bytes]] = {
    "a zip that unpacks to 4 GB": lambda: packed(a=bytes(70_000_000)),
    "zips within a zip": lambda: packed(a=packed(b=packed(c=bytes(1_000_000)))),
    "a zip whose parts climb": lambda: packed(**{"../../etc/x": b"x", "/etc/y": b"y"}),
    "a zip cut short": lambda: workbook(rows(""))[:-200],
    "a zip with a false size": lambda: workbook(rows(cell("A1", "x" * 1000))).replace(
        b"xl/worksheets/sheet1.xml", b"xl/worksheets/sheet9.xml", 1
    ),
    "a zip that is no workbook": lambda: packed(readme=b"hello"),
    "a document of another kind": lambda: packed(**{"word/document.xml": b"<x/>"}),
    "a hundred sheets": lambda: many_sheets(100),
    "a zip of 50,000 parts": lambda: packed(**{f"xl/{n}": b"" for n in range(50_000)}),
    "a sheet that says it is huge, and empty": lambda: workbook(rows("", size="A1:XFD1048576")),
    "one cell in the last row of all": lambda: workbook(
        rows(f'<row r="1048576">{cell("XFD1048576", "x")}</row>')
    ),
    "one cell in a row no sheet has": lambda: workbook(
        rows(f'<row r="99999999999">{cell("A99999999999", "x")}</row>')
    ),
    "a cell in a column no sheet has": lambda: workbook(
        rows(f'<row r="1">{cell("ZZZZZZ1", "x")}</row>')
    ),
    "a cell without a place": lambda: workbook(rows(f"<row>{cell('!!', 'x')}</row>")),
    "a billion laughs": lambda: workbook(
        rows(f'<row r="1">{cell("A1", "&a9;")}</row>', f"{LAUGHS}]>")
    ),
    "a shared text of 10 MB that ten thousand cells tell": lambda: workbook(
        rows(f"<row>{SHARED * 150}</row>" * 70),
        shared("x" * 10_000_000),
    ),
    "a shared text that is not there": lambda: workbook(
        rows('<row r="1"><c r="A1" t="s"><v>99999999999</v></c></row>')
    ),
    "a billion laughs among the shared texts": lambda: workbook(
        rows(f'<row r="1">{SHARED}</row>'), shared("&a9;", f"{LAUGHS}]>")
    ),
    "styles of elsewhere": lambda: workbook(
        rows(f'<row r="1">{cell("A1", "x")}</row>'),
        {"xl/styles.xml": f'{OUTSIDE}<styleSheet xmlns="{BOOK}">&f;</styleSheet>'.encode()},
    ),
    "a file from outside": lambda: workbook(rows(f'<row r="1">{cell("A1", "&f;")}</row>', OUTSIDE)),
    "XML ten thousand deep": lambda: workbook(rows("<row>" * 10_000)),
    "XML that does not end": lambda: workbook("<worksheet><sheetData><row>"),
    "half a million short cells": lambda: workbook(
        rows("".join(f"<row>{'<c><v>1</v></c>' * 20}</row>" for _ in range(25_000)))
    ),
    "a workbook with macros and nothing else": lambda: packed(**{"xl/vbaProject.bin": b"x"}),
    "commas, 20 million": lambda: b"," * 19_000_000,
    "line ends, 19 million": lambda: b"\n" * 19_000_000,
    "one cell of 19 MB": lambda: HEADING + b"x" * 19_000_000,
    "a quotation mark that never closes": lambda: HEADING + b'"' + b"x,\n" * 3_000_000,
    "quotation marks, 19 million": lambda: b'"' * 19_000_000,
    "half a million rows": lambda: HEADING + DUCT * 500_000,
    "a row of a million cells": lambda: HEADING + b"x," * 1_000_000,
    "zero bytes": lambda: HEADING + b"D\x001,duct,26,20,8,47,\n",
    "UTF-16 without its mark": lambda: (HEADING + DUCT).decode().encode("utf-16-le"),
    "a byte that is no UTF-8": lambda: HEADING + b"D\xe91,duct,26,20,8,47,\n",
    "a letter cut in half": lambda: HEADING + b"D\xed\xa0\x80,duct,26,20,8,47,\n",
    "UTF-8 written too long": lambda: HEADING + b"D\xc0\xaf,duct,26,20,8,47,\n",
    "a PDF": lambda: b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n",
    "a picture": lambda: b"\x89PNG\r\n\x1a\n" + bytes(1000),
    "a program": lambda: b"\x7fELF" + bytes(1000),
    "a number of endless digits": lambda: HEADING + b"D1,duct,26," + b"9" * 5000 + b",8,47,\n",
    "a number as a power": lambda: HEADING + b"D1,duct,26,1e999999999,8,47,\n",
    "a fraction over nothing": lambda: HEADING + b"D1,duct,26,1/0,8,47,\n",
    "not a number": lambda: HEADING + b"D1,duct,26,nan,inf,-inf,\n",
    "a mark of 100,000 letters": lambda: HEADING + b"M" * 100_000 + b",duct,26,20,8,47,\n",
    "a note of 100,000 letters": lambda: HEADING + b"D1,duct,26,20,8,47," + b"n" * 100_000 + b"\n",
    "a qty of a billion": lambda: b"qty," + HEADING + b"1000000000," + DUCT,
    "a formula for a size": lambda: HEADING + b"D1,duct,26,=1+1,8,47,\n",
}


@pytest.mark.parametrize("made", REFUSED.values(), ids=REFUSED)
def test_lists_that_are_refused(visitor: Visitor, desk: Desk, made: Callable[[], bytes]) -> None:
    data = made()
    begun = time.monotonic()
    page = visitor.post("/jobs/import", files={"list": ("list.csv", data)})
    assert time.monotonic() - begun < LONGEST
    assert page.status_code == 422, page.text
    assert "is not brought in" in page.text
    assert len(page.content) < 300_000
    assert "root:" not in page.text
    assert not desk.jobs.all()


NAMES = (
    "../../../etc/passwd",
    "..\\..\\windows\\win.ini",
    "/etc/passwd",
    "C:\\x.csv",
    "\\\\server\\share\\x.csv",
    "list.csv;rm -rf",
    "<img src=x onerror=alert(1)>.csv",
    "n" * 1000 + ".csv",
    "..",
    ".csv",
    "con.csv",
    "a\r\nSet-Cookie: x=1.csv",
    '"; filename="other.csv',
    "\u202evsc.exe",
    "%2e%2e%2fx.csv",
)


@pytest.mark.parametrize("name", NAMES)
def test_names_of_lists(visitor: Visitor, desk: Desk, name: str) -> None:
    page = visitor.post("/jobs/import", files={"list": (name, HEADING + DUCT)})
    assert page.status_code == 200
    (head,) = desk.jobs.all()
    assert "/" not in head.name
    assert "\\" not in head.name
    assert len(head.name) <= 120
    assert "<img src=x" not in page.text
    sent = visitor.get(f"/jobs/{head.id}/job.csv").headers["content-disposition"]
    assert "/" not in sent
    assert "\n" not in sent


FORMULAS = ("=1+1", "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "=cmd|' /C calc'!A0", "＝1+1")


@pytest.mark.parametrize("words", FORMULAS)
def test_formulas_go_out_as_text(visitor: Visitor, desk: Desk, words: str) -> None:
    job = kept(desk)
    sent = {**dict.fromkeys(("mark", "note", "width", "seam"), words), "gauge": "26", "_do": "keep"}
    visitor.post(f"/jobs/{job.id}/add/straight-duct", sent)
    visitor.post(f"/jobs/{job.id}/name", {"name": words, "_was": "Elm"})
    assert desk.jobs.get(job.id).rows[0].cells["mark"] == words.strip()
    table = list(csv.reader(io.StringIO(visitor.get(f"/jobs/{job.id}/job.csv").text)))
    for each in (line for line in table for line in line if line):
        assert each[0] not in "=+@\t\r＝", each
        assert not each.startswith("-2")
    book = openpyxl.load_workbook(io.BytesIO(visitor.get(f"/jobs/{job.id}/job.xlsx").content))
    kinds = {each.data_type for sheet in book for line in sheet.iter_rows() for each in line}
    assert "f" not in kinds


def test_what_is_not_refused_is_shown_as_text(visitor: Visitor, desk: Desk) -> None:
    odd = b"<script>alert(1)</script>,duct,26,20,8,47,{{ 7*7 }}\n"
    page = visitor.post("/jobs/import", files={"list": ("list.csv", HEADING + odd)})
    assert "<script>alert" not in page.text
    assert "{{ 7*7 }}" in page.text
    assert inputs(page.text)["_csrf"]
