"""Round pipe, held against the girth pi d and published cuts."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake, Shop
from takeoff.fittings._circle import divisions
from takeoff.fittings._round_ends import seven_t
from takeoff.materials import sheet
from takeoff.pattern.outline import outline
from takeoff.profile import default
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.making import STANDARD_SHEETS, card, made
from tests.takeoff.fittings.rounds import (
    MANY,
    SIXTY_FOURTH,
    SOME,
    assert_sound,
    girth,
    quarters,
    sampled,
    strips,
)

PLAIN = {"end_1": "raw", "end_2": "raw"}
ENDS = st.sampled_from(["raw", "crimp", "hem", "flange out", "flange in"])
SEAMS = st.sampled_from(["grooved", "snap lock", "lap", "standing", "pittsburgh"])


@SOME
@given(quarters(3, 24), quarters(2, 60), SEAMS, ENDS, ENDS)
def test_any_pipe_folds_to_the_true_round(
    diameter: Fraction, length: Fraction, seam: str, end_1: str, end_2: str
) -> None:
    result = made(
        "round pipe", diameter=diameter, length=length, seam=seam, end_1=end_1, end_2=end_2
    )
    assert_sound(result)
    points = np.vstack([sampled(piece) for piece in result.pieces])
    off = np.hypot(points[:, 0], points[:, 1]) - float(diameter) / 2
    assert np.abs(off).max() <= SIXTY_FOURTH
    laps = 1.5 * (end_1 == "crimp") + 1.5 * (end_2 == "crimp")
    assert np.ptp(points[:, 2]) == pytest.approx(float(length) + laps)


@MANY
@given(quarters(3, 36), quarters(2, 46))
def test_the_flat_less_its_allowances_is_the_surface(diameter: Fraction, length: Fraction) -> None:
    """Girth pi d and area pi d L, whatever the divisions."""
    (pipe,) = made("round pipe", diameter=diameter, length=length, **PLAIN).pieces
    assert girth(pipe, 0) == pytest.approx(math.pi * float(diameter), abs=1e-9)
    assert face_area(pipe) == pytest.approx(math.pi * float(diameter * length))
    shape = outline(pipe)
    assert shape.width == pytest.approx(math.pi * float(diameter) + 0.75)
    assert shape.length == pytest.approx(float(length))


def test_a_grooved_lock_adds_three_widths() -> None:
    """6 in pipe, 1/4 lock: 18.850 + 0.75 = 19.600 (home.tallships.ca/mspencer/lockseam.html)."""
    (pipe,) = made("round pipe", diameter=6, length=24, **PLAIN).pieces
    assert outline(pipe).width == pytest.approx(19.600, abs=0.0005)


@pytest.mark.parametrize(
    ("diameter", "lock", "printed", "calculated"),
    [
        # Longfield, Sheet Metal Drafting, p. 61: big-end cuts; beside them pi d + lock
        ("4", "1/2", "14", 13.57),
        ("4 1/2", "1/2", "15 1/2", 15.14),
        ("5", "1/2", "17", 16.71),
        ("6", "1/2", "20", 19.85),
        ("7", "1/2", "23", 22.99),
        ("8", "1/2", "26", 26.13),
        ("9", "1/2", "29 1/4", 29.27),
        ("10", "1/2", "32", 32.42),
        # conductor, 1/2 in lock in all
        ("2", "1/4", "6 7/8", 6.78),
        ("2 1/2", "1/4", "8 5/8", 8.35),
        ("3", "1/4", "9 7/8", 9.92),
    ],
)
def test_the_cut_is_girth_and_lock(
    diameter: str, lock: str, printed: str, calculated: float
) -> None:
    """The printed cuts are trade sizes, up to 7/16 in off the exact girth either way."""
    toml = f'[seams.grooved]\npocket = "{lock}"\nsingle = "{lock}"\n'
    (pipe,) = made("round pipe", toml, diameter=diameter, length=24, **PLAIN).pieces
    width = float(outline(pipe).width)
    assert width == pytest.approx(calculated, abs=0.006)
    trade = float(sum(Fraction(part) for part in printed.split()))
    assert abs(width - trade) <= 7 / 16


@pytest.mark.parametrize(
    ("gauge", "seven_thick"),
    # No. 23: Longfield p. 60, printed; the others calculated from the standard gauge (20 ga: 3/80)
    [(23, 0.196875), (28, 0.1094), (26, 0.1313), (24, 0.1750), (22, 0.2188), (20, 0.2625)],
)
def test_the_small_end_is_cut_seven_thicknesses_short(gauge: int, seven_thick: float) -> None:
    metal = sheet("steel", gauge)
    assert float(seven_t(metal.thickness)) == pytest.approx(seven_thick, abs=1e-4)
    place = Shop(default(), metal, tuple((Fraction(w), Fraction(n)) for w, n in STANDARD_SHEETS))
    (pipe,) = card("round pipe", diameter=6, length=24, end_2="small end").make(place).pieces
    short = girth(pipe, 0) - girth(pipe, 2)
    assert short == pytest.approx(float(7 * metal.thickness), abs=1e-9)


def test_width_and_diameter_of_a_cylinder() -> None:
    """Width is diameter x 3.1416, diameter is width x 0.31831 (chestofbooks.com, tubes)."""
    (pipe,) = made("round pipe", diameter=10, length=12, **PLAIN).pieces
    assert girth(pipe, 0) == pytest.approx(10 * 3.1416, abs=1e-3)
    assert girth(pipe, 0) * 0.31831 == pytest.approx(10, abs=1e-3)


def test_a_crimped_end_is_so_much_longer_and_told() -> None:
    result = made("round pipe", diameter=8, length=30)
    assert outline(result.pieces[0]).length == pytest.approx(31.5)
    assert any("Crimp" in note for note in result.notes)


def test_a_long_run_is_cut_into_joints_that_slip_together() -> None:
    """A 48 in joint less 1 1/2 that goes in: 46 1/2, 46 1/2, 27."""
    result = made("round pipe", diameter=6, length=120)
    lengths = [float(outline(piece).length) for piece in result.pieces]
    assert lengths == pytest.approx([48, 48, 28.5])
    assert [joint.treatment for joint in result.joints] == ["crimp", "crimp"]


def test_flanged_joints_are_flanged_between_too() -> None:
    result = made("round pipe", diameter=14, length=80, end_1="flange out", end_2="flange out")
    assert len(result.pieces) == 2
    assert all(len(strips(piece, "flange")) == 2 * divisions(14) for piece in result.pieces)
    assert max(float(outline(piece).length) for piece in result.pieces) == pytest.approx(48)


def test_a_girth_beyond_every_sheet_is_made_in_halves() -> None:
    result = made("round pipe", diameter=48, length=20, **PLAIN)
    assert len(result.pieces) == 2
    assert_sound(result)
    assert any("2 pieces round" in note for note in result.notes)
    with pytest.raises(CannotMake, match="larger than every sheet") as refusal:
        made("round pipe", diameter=48, length=20, pieces=1)
    assert refusal.value.column == "pieces"


@pytest.mark.parametrize(
    ("column", "cells"),
    [
        ("end_1", {"end_1": "drive"}),
        ("end_2", {"end_2": "slip and drive"}),
        ("end_1", {"diameter": 2, "end_1": "flange in"}),
        ("seam", {"seam": "glued"}),
    ],
)
def test_what_cannot_be_made_names_its_column(column: str, cells: dict[str, object]) -> None:
    with pytest.raises(CannotMake) as refusal:
        made("round pipe", **{"diameter": 8, "length": 20, **cells})
    assert refusal.value.column == column


def test_a_flange_just_less_than_the_opening_is_made() -> None:
    assert_sound(made("round pipe", diameter="2 1/16", length=10, end_1="flange in"))


@pytest.mark.parametrize(
    "cells", [{"diameter": 0}, {"length": 0}, {"pieces": 0}, {"pieces": 5}, {"diameter": 601}]
)
def test_sizes_beyond_the_limits_are_refused(cells: dict[str, object]) -> None:
    with pytest.raises(ValidationError) as refusal:
        card("round pipe", **{"diameter": 8, "length": 20, **cells})
    assert refusal.value.errors()[0]["loc"] == tuple(cells)


def test_divisions_keep_the_flats_on_the_round() -> None:
    """The middle of a flat lies R (1 - u / tan u) inside, u = pi / n."""
    for diameter in (2, 4, 8, 14, 24, 60):
        count = divisions(diameter)
        half = math.pi / count
        assert diameter / 2 * (1 - half / math.tan(half)) <= SIXTY_FOURTH
        assert count % 24 == 0
