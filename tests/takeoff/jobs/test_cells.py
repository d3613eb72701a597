"""Cells as text, and the apostrophe that keeps a spreadsheet from working them out."""

import math
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.jobs.cells import guarded, is_formula, spoiled, text, unguarded
from takeoff.lengths import parse


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        (None, ""),
        ("  RB1 \n wrap\t", "RB1 wrap"),
        ("a\u200b\x07b\u202e", "ab"),
        (17, "17"),
        (17.0, "17"),
        (17.5, "17.5"),
        (1e-7, "0.0000001"),
        (1e20, "100000000000000000000"),
        (0.1 + 0.2, "0.3"),
        (True, "yes"),
        (False, "no"),
        (math.nan, "#ERROR"),
        ("'=A1", "=A1"),
        ("'17", "'17"),
    ],
)
def test_a_cell_as_text(cell: object, words: str) -> None:
    assert text(cell) == words


@given(st.floats(min_value=0.001, max_value=600))
def test_a_number_reads_as_the_same_length_from_its_text(number: float) -> None:
    assert parse(text(number)) == parse(number)


@pytest.mark.parametrize("words", ["=1+1", "+1", "@x", "-a", "-1-1+cmd", "＝1"])
def test_formulas_get_an_apostrophe(words: str) -> None:
    assert guarded(words) == f"'{words}"


@pytest.mark.parametrize("words", ["", "-1 1/2", "-3.5", "D1", "'n", "a=b", "17 1/2"])
def test_other_text_stays_as_it_is(words: str) -> None:
    assert guarded(words) == words


@given(st.text(alphabet="'=+-@1a ", max_size=6))
def test_a_guarded_text_comes_back(words: str) -> None:
    assert unguarded(guarded(words)) == words


def test_what_a_spreadsheet_spoils() -> None:
    assert spoiled(datetime(2026, 1, 2)) == "is a date to the spreadsheet"
    assert spoiled(math.inf) == "is an error of the spreadsheet"
    assert spoiled("2026-01-02") is None
    assert is_formula("=A1")
    assert not is_formula("A=1")
