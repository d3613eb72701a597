"""Tape notation to exact inches, back, and onto the grid."""

import math
from datetime import date
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.errors import InvalidLength, TakeoffError
from takeoff.lengths import (
    GRIDS,
    INCH,
    MILLIMETRE,
    SIXTY_FOURTHS,
    TENTH_MILLIMETRES,
    Grid,
    from_grid,
    parse,
    parse_signed,
    rounded,
    show,
    show_exactly,
    show_with_unit,
    show_within,
    to_grid,
)

MM = Fraction(10, 254)  # 1 in = 25.4 mm exactly (international yard and pound agreement, 1959)
GRID = pytest.mark.parametrize("grid", [SIXTY_FOURTHS, TENTH_MILLIMETRES], ids=["1/64in", "0.1mm"])


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("17 1/2", Fraction(35, 2)),
        ("17-1/2", Fraction(35, 2)),
        ("17 - 1/2", Fraction(35, 2)),
        ("17.5", Fraction(35, 2)),
        ("17.", Fraction(17)),
        (".5", Fraction(1, 2)),
        ("1/2", Fraction(1, 2)),
        ("23/32", Fraction(23, 32)),
        ("0", Fraction(0)),
        ("  17 1/2\t", Fraction(35, 2)),
        ("17 1 / 2", Fraction(35, 2)),
        ("17 1/2 in", Fraction(35, 2)),
        ("17 1/2 IN.", Fraction(35, 2)),
        ("17½ inches", Fraction(35, 2)),
        ('17 1/2"', Fraction(35, 2)),
        ("17 1/2''", Fraction(35, 2)),
        ("17½", Fraction(35, 2)),
        ("17 ⅞", Fraction(143, 8)),
        ("½", Fraction(1, 2)),
        ("17\u00a01/2", Fraction(35, 2)),
        ("17\u20091⁄2", Fraction(35, 2)),
        ("\ufeff17 1/2", Fraction(35, 2)),
        ("17–1/2", Fraction(35, 2)),
        ("1' 5-1/2\"", Fraction(35, 2)),
        ("1'-5 1/2\"", Fraction(35, 2)),
        ("1' - 5 1/2\"", Fraction(35, 2)),
        ("1′ 5½″", Fraction(35, 2)),
        ("1’ 5 1/2”", Fraction(35, 2)),
        ("1 ft 5 1/2 in", Fraction(35, 2)),
        ("1'5.5", Fraction(35, 2)),
        ("5'", Fraction(60)),
        ("5 feet", Fraction(60)),
        ("2.5'", Fraction(30)),
        ("0' 1/2\"", Fraction(1, 2)),
        ("445mm", 445 * MM),
        ("445 MM", 445 * MM),
        ("44.5 cm", 445 * MM),
        ("1.2 m", 1200 * MM),
        ("25.4mm", Fraction(1)),
        (17, Fraction(17)),
        (17.5, Fraction(35, 2)),
        (17.1875, Fraction(275, 16)),
        (0.1, Fraction(1, 10)),
        (0.1 + 0.2, Fraction(3, 10)),
        (np.float64(17.1875), Fraction(275, 16)),
        (np.int64(17), Fraction(17)),
        (Fraction(1, 3), Fraction(1, 3)),
    ],
)
def test_accepted_forms(text: object, inches: Fraction) -> None:
    assert parse(text) == inches  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("445", 445 * MM),
        (444.5, Fraction(35, 2)),
        (445, 445 * MM),
        ("17 1/2 in", Fraction(35, 2)),
        ('17.5"', Fraction(35, 2)),
        ("1' 5 1/2", Fraction(35, 2)),
        ("44.45cm", Fraction(35, 2)),
    ],
)
def test_metric_job_reads_bare_numbers_as_millimetres(text: str | float, inches: Fraction) -> None:
    assert parse(text, MILLIMETRE) == inches


@pytest.mark.parametrize(
    "text",
    [
        "", "   ", "abc", "17 1/2 1/4", "17.5 1/2", "1 7 1/2", "17 1/0", "171/2", "17 3/2", "2/2",
        "1' 12\"", "1' 14\"", "1.5' 6\"", "5'-", "5' - ", "- ", "--5", "1/2'", "17,5", "1,200",
        "1e3", "0x10", "1_000", "nan", "inf", "17..5", ".", "/", "1/", "/2", "17 1/2 mm",
        "17 in 5", "17 km", "=A1+2", "17+1/2", "١٧", "x" * 5000, "9" * 5000, "1-Feb", "Jan-02",
        "1/2/2024", -1, -0.5, "-5", "-1/2", math.nan, math.inf, True, None, date(2024, 1, 2), [17],
    ],
)  # fmt: skip
def test_refused_and_the_message_helps(text: object) -> None:
    with pytest.raises(InvalidLength) as caught:
        parse(text)  # type: ignore[arg-type]
    message = str(caught.value)
    assert isinstance(caught.value, TakeoffError)
    assert isinstance(caught.value, ValueError)
    assert caught.value.value is text
    assert "is not a length: " in message
    assert "\n" not in message
    assert len(message) < 250


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("abc", "17 1/2, 17-1/2, 17.5"),
        ("", "a blank is not a length"),
        ("17,5", "Write a decimal with a point"),
        ("171/2", "Leave a space"),
        ("1' 14\"", "less than 12"),
        ("-5", "below 0"),
        ("1-Feb", "date"),
        (date(2024, 1, 2), "date"),
    ],
)
def test_advice_fits_the_mistake(text: object, words: str) -> None:
    with pytest.raises(InvalidLength, match=words):
        parse(text)  # type: ignore[arg-type]


def test_fraction_without_mark_is_refused_in_a_metric_job() -> None:
    with pytest.raises(InvalidLength, match="no fraction"):
        parse("17 1/2", MILLIMETRE)


def test_signed_lengths_are_for_offsets() -> None:
    assert parse_signed("-2 1/2") == Fraction(-5, 2)
    assert parse_signed("− 2½") == Fraction(-5, 2)
    assert parse_signed(-2.5) == Fraction(-5, 2)
    assert parse_signed("-25.4mm") == -1
    assert parse_signed("2 1/2") == Fraction(5, 2)
    assert show(Fraction(-5, 2)) == "-2 1/2"
    assert show(Fraction(-1, 2)) == "-1/2"


@pytest.mark.parametrize(
    ("inches", "denominator", "text"),
    [
        (Fraction(35, 2), 16, "17 1/2"),
        (Fraction(117, 2), 16, "58 1/2"),
        (Fraction(23, 32), 32, "23/32"),
        (Fraction(23, 32), 16, "3/4"),  # 23/32 = 11.5/16: half way goes up to 12/16
        (Fraction(0), 16, "0"),
        (Fraction(23), 16, "23"),
        (Fraction(1, 1000), 16, "0"),
        (Fraction(-1, 1000), 16, "0"),
        (17.999, 16, "18"),
        (24.0833, 16, "24 1/16"),
    ],
)
def test_show_inches(inches: Fraction, denominator: int, text: str) -> None:
    assert show(inches, INCH, denominator) == text


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (Fraction(35, 2), "444.5"),
        (445 * MM, "445"),
        (Fraction(1), "25.4"),
        (Fraction(1, 16), "1.6"),
    ],
)
def test_show_millimetres(inches: Fraction, text: str) -> None:
    assert show(inches, MILLIMETRE) == text


def test_unit_only_on_request() -> None:
    assert show_with_unit(Fraction(35, 2)) == "17 1/2 in"
    assert show_with_unit(Fraction(35, 2), MILLIMETRE) == "444.5 mm"


def test_rounding_can_be_told() -> None:
    assert rounded(Fraction(35, 2)) == Fraction(35, 2)
    assert rounded(Fraction(23, 32)) != Fraction(23, 32)
    assert show_exactly(Fraction(35, 2)) == "17 1/2"
    assert show_exactly(Fraction(23, 32)) == "23/32"
    assert show_exactly(Fraction(1, 64)) == "1/64"
    assert show_exactly(Fraction(1, 3)) == "~11/32"  # 1/3 = 10.67/32
    assert show_exactly(Fraction(35, 2), MILLIMETRE) == "444.5"
    assert show_exactly(Fraction(1, 16), MILLIMETRE) == "~1.6"  # 1.5875 mm
    assert show_exactly(math.sqrt(2) ** 2) == "2"


def test_metal_that_is_there_is_never_told_to_be_more() -> None:
    assert show_within(Fraction(35, 2)) == "17 1/2"
    assert show_within(445 * MILLIMETRE.inches) == "17 1/2"  # 17.5197 in
    assert show_within(Fraction(1, 3)) == "5/16"  # 10.67/32
    assert show_within(Fraction(1, 16), MILLIMETRE) == "1.5"  # 1.5875 mm


@given(st.integers(0, 64 * 1000))
def test_inches_on_the_grid_come_back(steps: int) -> None:
    value = Fraction(steps, 64)
    assert parse(show(value, INCH, 64)) == value
    assert parse(show_exactly(value)) == value
    assert parse_signed(show(-value, INCH, 64)) == -value


@given(st.integers(0, 250_000))
def test_millimetres_on_the_grid_come_back(steps: int) -> None:
    value = Fraction(steps, 254)
    assert parse(show(value, MILLIMETRE), MILLIMETRE) == value
    assert parse(show_with_unit(value, MILLIMETRE)) == value


@given(st.fractions(0, 500), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_shown_is_nearest(value: Fraction, denominator: int) -> None:
    shown = parse(show(value, INCH, denominator))
    assert shown == rounded(value, INCH, denominator)
    assert abs(shown - value) <= Fraction(1, 2 * denominator)


@given(st.integers(0, 10**9), st.integers(0, 6))
def test_decimals_of_a_spreadsheet_are_exact(digits: int, places: int) -> None:
    assert parse(digits / 10**places) == Fraction(digits, 10**places)


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_is_refused(text: str) -> None:
    try:
        value = parse(text)
    except InvalidLength:
        return
    assert value >= 0


@GRID
@given(value=st.fractions(0, 500))
def test_grid_never_loses(grid: Grid, value: Fraction) -> None:
    held = from_grid(to_grid(value, grid), grid)
    assert value <= held < value + 1 / grid.per_inch


@GRID
@given(value=st.floats(0, 500))
def test_grid_never_loses_more_than_float_dust(grid: Grid, value: float) -> None:
    held = from_grid(to_grid(value, grid), grid) - Fraction(value)
    assert Fraction(-1, 10**6) <= held * grid.per_inch < 1


@GRID
@given(steps=st.integers(0, 10**6))
def test_grid_steps_come_back(grid: Grid, steps: int) -> None:
    assert to_grid(from_grid(steps, grid), grid) == steps
    assert to_grid(float(from_grid(steps, grid)), grid) == steps


def test_grid_goes_up_by_the_smallest_excess_of_a_fraction() -> None:
    assert to_grid(Fraction(117, 2), SIXTY_FOURTHS) == 3744
    assert to_grid(Fraction(23), SIXTY_FOURTHS) == 1472
    assert to_grid(Fraction(23) + Fraction(1, 10**9), SIXTY_FOURTHS) == 1473
    assert to_grid(23 + 1e-9, SIXTY_FOURTHS) == 1472
    assert to_grid(23 + 1e-4, SIXTY_FOURTHS) == 1473
    assert GRIDS[MILLIMETRE].per_inch == 254
    with pytest.raises(ValueError, match="more than 0"):
        Grid(Fraction(0))
