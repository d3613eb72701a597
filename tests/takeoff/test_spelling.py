"""Lengths written so that they read back exactly."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.lengths import INCH, MILLIMETRE, Unit, parse, parse_signed
from takeoff.spelling import spelled


@pytest.mark.parametrize(
    ("typed", "unit", "written"),
    [
        ("17 1/2", INCH, "17 1/2"),
        ("17.5", INCH, "17 1/2"),
        ("17 1/64", INCH, "17 1/64"),
        ("17.3", INCH, "17.3"),
        ("1/2", INCH, "0.5"),  # a spreadsheet would make a date of 1/2
        ("0", INCH, "0"),
        ("445mm", INCH, "445 mm"),
        ("17 1/3", INCH, "17 1/3 in"),
        ("1/3", INCH, "1/3 in"),
        ("445", MILLIMETRE, "445"),
        ("444.55", MILLIMETRE, "444.55"),
        ("17 1/2 in", MILLIMETRE, "444.5"),
        ("17 1/3 in", MILLIMETRE, "17 1/3 in"),
    ],
)
def test_a_length_as_written(typed: str, unit: Unit, written: str) -> None:
    assert spelled(parse(typed, unit), unit) == written


@given(
    st.fractions(min_value=-2000, max_value=2000, max_denominator=10_000),
    st.sampled_from([INCH, MILLIMETRE]),
)
def test_a_spelled_length_reads_back_exactly(value: Fraction, unit: Unit) -> None:
    assert parse_signed(spelled(value, unit), unit) == value
