"""Cells of our tables: exact enough to add up, and never a formula."""

import csv
import io
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.jobs.cells import text
from takeoff.lengths import INCH, MILLIMETRE
from takeoff.papers.cells import table, tape, written


@pytest.mark.parametrize("words", ["=1+1", "+cmd", "-a", "@sum", "＝1", '=HYPERLINK("x")'])
def test_text_like_a_formula_is_written_as_text_and_read_back(words: str) -> None:
    cell = written(words)
    assert cell == f"'{words}"
    assert text(cell) == words


@given(st.text(st.characters(categories=["L", "N", "P", "S"]), min_size=1, max_size=20))
def test_any_name_comes_back_through_a_table(words: str) -> None:
    (row,) = csv.DictReader(io.StringIO(table(["name"], [{"name": words}]), newline=""))
    assert text(row["name"]) == words


@pytest.mark.parametrize(
    ("cell", "shown"),
    [
        (Fraction(1, 64), "0.015625"),
        (Fraction(39, 2), "19.5"),
        (Fraction(20), "20"),
        (1200, "1200"),
        (0.0, "0"),
        (True, "yes"),
        (None, ""),
    ],
)
def test_numbers_are_plain(cell: Fraction | float | bool | None, shown: str) -> None:
    assert written(cell) == shown


def test_a_tape_reading_is_never_a_date_to_a_spreadsheet() -> None:
    assert tape(Fraction(1, 2), INCH) == "1/2 in"
    assert tape(Fraction(4445, 254), MILLIMETRE) == "444.5 mm"


def test_a_row_must_have_the_columns() -> None:
    with pytest.raises(ValueError, match="surplus"):
        table(["a"], [{"a": 1, "surplus": 2}])
