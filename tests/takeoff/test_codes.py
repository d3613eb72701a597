"""The least gauges against the lines that codes print."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.codes import Conditions, Shape, editions, least, rows
from takeoff.materials import gauges, sheet

HALF = Conditions("imc-2015", "0.5", "enclosed")
ONE = Conditions("imc-2015", "1", "enclosed")
ENCLOSED = Conditions("imc-2006", "0.5", "enclosed")
EXPOSED = Conditions("imc-2006", "0.5", "exposed")
EVERY = [
    Conditions(edition, pressure, place)
    for edition in editions()
    for pressure in ("0.5", "1")
    for place in ("enclosed", "exposed")
]
THINNEST_GALVANIZED = {30: ".0127", 28: ".0157", 26: ".0187", 24: ".0236"}
"""Minimum thickness by gauge, in: galvanized sheet tolerances after ASTM A924/A653, as an appendix
of a duct standard prints them (scribd.com/document/75416804)."""


@pytest.mark.parametrize(
    ("shape", "size", "conditions", "gauge"),
    [
        # Minnesota Rules 1346.0603 amending IMC 603: 12x10 and 20x8 enclosed, 20x8 exposed,
        # 8 in and 16 in round
        ("rectangular", 12, ENCLOSED, 30),
        ("rectangular", 20, ENCLOSED, 28),
        ("rectangular", 20, EXPOSED, 26),
        ("round", 8, ENCLOSED, 30),
        ("round", 16, EXPOSED, 28),
        # IMC 2015 Table 603.4 (up.codes Section 603): the same 20x8 takes .024 in
        ("rectangular", 20, HALF, 24),
        ("rectangular", 8, ONE, 30),
        ("rectangular", 9, HALF, 30),
        ("rectangular", 9, ONE, 28),
        ("rectangular", 12, HALF, 28),
        ("rectangular", 12, ONE, 26),
        ("rectangular", 16, HALF, 26),
        ("rectangular", 18, HALF, 26),
        ("rectangular", 18, ONE, 24),
        ("round", 11, ONE, 30),
        ("round", 12, ONE, 28),
        ("round", 14, HALF, 30),
        ("round", 17, ONE, 26),
        ("round", 18, HALF, 28),
        ("round", 18, ONE, 24),
        ("round", 20, HALF, 26),
    ],
)
def test_galvanized_lines_of_the_codes(
    shape: Shape, size: int, conditions: Conditions, gauge: int
) -> None:
    found = least("galvanized", shape, Fraction(size), conditions)
    assert found is not None
    assert found.gauge == gauge


@pytest.mark.parametrize(
    ("size", "thickness"),
    # IMC 2015 Table 603.4, aluminium at 1 in w.g., rectangular
    [(8, ".018"), (10, ".023"), (12, ".027"), (16, ".027"), (18, ".034"), (20, ".034")],
)
def test_aluminium_is_asked_to_be_thicker(size: int, thickness: str) -> None:
    found = least("alum", "rectangular", Fraction(size), ONE)
    assert found is not None
    assert found.thickness == Fraction(thickness)


def test_aluminium_of_the_older_table_is_in_brown_and_sharpe_gauges() -> None:
    # Minnesota Rules 1346.0603: 26 up to 14 in, 24 above; exposed rectangular 24 and 22
    asked = [(ENCLOSED, 14), (ENCLOSED, 15), (EXPOSED, 14), (EXPOSED, 15)]
    found = [least("aluminium", "rectangular", Fraction(size), each) for each, size in asked]
    assert [row.gauge for row in found if row] == [26, 24, 24, 22]


@pytest.mark.parametrize(
    ("edition", "size", "gauge"),
    [
        # Mechanical Estimating Manual (2007), p. 129
        ("low-pressure-2007", 12, 26),
        ("low-pressure-2007", 30, 24),
        ("low-pressure-2007", 54, 22),
        ("low-pressure-2007", 84, 20),
        ("low-pressure-2007", 85, 18),
        # City of Zephyrhills FL, project specification 15890 (1999)
        ("zephyrhills-1999", 6, 24),
        ("zephyrhills-1999", 42, 22),
        ("zephyrhills-1999", 61, 20),
        ("zephyrhills-1999", 97, 18),
    ],
)
def test_ladders_for_larger_duct(edition: str, size: int, gauge: int) -> None:
    found = least("galvanized", "rectangular", Fraction(size), Conditions(edition, "1", "exposed"))
    assert found is not None
    assert found.gauge == gauge


def test_a_size_between_two_lines_takes_the_heavier() -> None:
    between = least("galvanized", "rectangular", Fraction(33, 2), ONE)
    below = least("galvanized", "round", Fraction(1199, 100), ONE)
    assert between is not None
    assert below is not None
    assert (between.gauge, below.gauge) == (24, 30)


def test_the_dwelling_table_ends_at_20_inches() -> None:
    assert least("galvanized", "rectangular", Fraction(321, 16), HALF) is None
    assert least("galvanized", "round", Fraction(21), HALF) is None


def test_what_a_table_does_not_cover() -> None:
    assert rows("stainless", "rectangular", HALF) == ()
    assert rows("galvanized", "round", Conditions("zephyrhills-1999", "1", "exposed")) == ()
    assert rows("galvanized", "round", Conditions("none", "1", "exposed")) == ()


def test_the_gauge_of_each_printed_thickness() -> None:
    """Galvanized by its minimum thickness to the mil, aluminium by what is not thinner."""
    printed = [
        row
        for conditions in (HALF, ONE, ENCLOSED, EXPOSED)
        for shape in ("round", "rectangular")
        for metal in ("galvanized", "aluminium")
        for row in rows(metal, "round" if shape == "round" else "rectangular", conditions)
        if row.thickness is not None
    ]
    assert len(printed) == 2 * (2 * 5 + 2 * 6) + 8
    for row in printed:
        if row.material == "galvanized":
            assert round(Fraction(THINNEST_GALVANIZED[row.gauge]), 3) == row.thickness
        else:
            thinner = gauges("aluminium")[gauges("aluminium").index(row.gauge) + 1]
            assert sheet("aluminium", row.gauge).thickness >= row.thickness
            assert sheet("aluminium", thinner).thickness < row.thickness


@given(
    st.sampled_from(EVERY),
    st.sampled_from(["round", "rectangular"]),
    st.sampled_from(["galvanized", "aluminium"]),
    st.fractions(1, 40, max_denominator=16),
    st.fractions(0, 40, max_denominator=16),
)
def test_a_larger_duct_is_never_allowed_a_lighter_gauge(
    conditions: Conditions, shape: Shape, metal: str, size: Fraction, more: Fraction
) -> None:
    small = least(metal, shape, size, conditions)
    large = least(metal, shape, size + more, conditions)
    if large is not None:
        assert small is not None
        assert small.gauge >= large.gauge


def test_labels_name_the_edition_and_the_conditions_that_count() -> None:
    assert HALF.label == "IMC Table 603.4 and IRC Table M1601.1.1, 2015 and later; 0.5 in w.g."
    assert EXPOSED.label.endswith("law; exposed duct")
    assert Conditions("zephyrhills-1999", "1", "exposed").label.endswith("Florida, 1999")
