"""CSV files: encodings, separators, quotation marks, and files that are none."""

import codecs

import pytest

from takeoff.jobs.read_csv import csv_cells, read_csv
from takeoff.jobs.refusals import MOST_COLUMNS, MOST_ROWS

from .lists import DUCT, HEADING, lines, read

TEXT = HEADING + DUCT.replace(",26,,", ",26,fächer,")


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        codecs.BOM_UTF8 + TEXT.encode(),
        TEXT.encode("utf-16"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
        TEXT.encode("utf-32"),
        TEXT.replace("\n", "\r\n").encode(),
        TEXT.replace("\n", "\r").encode(),
    ],
)
def test_encodings(data: bytes) -> None:
    assert read_csv(data).lines == read(TEXT).lines
    assert read(TEXT).lines[0].note == "fächer"


def test_another_encoding_is_told_with_its_byte_and_line() -> None:
    (line,) = lines(TEXT.encode("latin-1"))
    assert "line 2 has the byte 0xE4, which is not UTF-8" in line
    assert 'Save it as "CSV UTF-8".' in line
    (line,) = lines((HEADING + DUCT).encode("utf-16-le"))
    assert "line 1 is no text, it has a zero byte" in line
    (line,) = lines(codecs.BOM_UTF16_LE + b"a\x00\x00")
    assert "which is not UTF-16" in line


@pytest.mark.parametrize("separator", [";", "\t"])
def test_other_separators(separator: str) -> None:
    text = "# job = a, b; c\n" + TEXT.replace(",", separator)
    assert read(text).lines[0].fitting == read(TEXT).lines[0].fitting
    assert read(text).name.startswith("a, b")


def test_a_decimal_comma_is_told() -> None:
    (line,) = lines(TEXT.replace(",", ";").replace(";20;", ";20,5;"))
    assert "a comma can be read in two ways" in line.casefold()


def test_separators_that_are_mixed() -> None:
    (line,) = lines("mark,fitting;gauge,width\nD1,duct;26,9\n")
    assert "row 1: fitting;gauge is not a column" in line or "part the titles" in line
    (line,) = lines("mark;x,fitting\tgauge;width\n")
    assert "commas and semicolons and tabs part the titles of its columns" in line


def test_quoted_cells_hold_separators_quotation_marks_and_line_ends() -> None:
    (line,) = read(HEADING + DUCT.replace("D1", "D0").replace(",26,,", ',26,"a, ""b""\nc",')).lines
    assert line.note == 'a, "b" c'


def test_a_row_with_a_line_end_in_a_cell_counts_once() -> None:
    text = HEADING + DUCT.replace(",26,,", ',26,"two\nlines",') + DUCT.replace("D1", "")
    assert lines(text)[0].startswith("row 3")


def test_a_quotation_mark_for_inches_needs_no_quoting() -> None:
    (line,) = read(HEADING + 'D1,duct,,,26,,1\' 8",,8",47,,,,\n').lines
    assert line.fitting.width == 20  # type: ignore[attr-defined]


def test_a_quotation_mark_that_does_not_close() -> None:
    (line,) = lines(HEADING + DUCT + '"D2,duct\n')
    assert "a quotation mark that opens in row 3 does not close" in line
    (line,) = lines(HEADING + DUCT + '"D2,duct' + DUCT * 5000)
    assert "row 3 has a cell that is longer than any text. Close its quotation mark" in line


def test_a_quotation_mark_at_the_very_end() -> None:
    (line,) = lines(HEADING + DUCT + '"')
    assert "a quotation mark that opens in row 3 does not close" in line
    assert read(HEADING + DUCT.strip() + ',""').lines == read(HEADING + DUCT).lines


def test_no_value_is_taken_for_missing_because_of_its_letters() -> None:
    (line,) = read(HEADING + DUCT.replace("D1", "NA").replace(",26,,", ",26,nan,")).lines
    assert (line.mark, line.note) == ("NA", "nan")


def test_lists_that_are_too_large() -> None:
    (line,) = lines(HEADING + DUCT * MOST_ROWS)
    assert f"it has more than {MOST_ROWS} rows. Split it" in line
    assert len(csv_cells((HEADING + DUCT * (MOST_ROWS - 1)).encode())) == MOST_ROWS
    assert len(csv_cells((HEADING + DUCT * (MOST_ROWS - 1)).strip().encode())) == MOST_ROWS
    (line,) = lines(HEADING + DUCT.strip() + "," * MOST_COLUMNS + "x\n")
    assert "row 2 has more than 200 cells" in line
    (line,) = lines(HEADING + DUCT.strip() + "," * MOST_COLUMNS + "x," * MOST_COLUMNS + "\n")
    assert "row 2 has more than 200 cells" in line
