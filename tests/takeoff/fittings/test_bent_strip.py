"""Bent strips against published developed widths and closed forms."""

import math
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake, Shop
from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.folded import assert_folds_and_meets, assert_limit
from tests.takeoff.fittings.making import card, made, shop


def bending(radius: str, thickness: str) -> Shop:
    """A shop with the allowance rule, that radius, and a metal of that thickness (in)."""
    here = shop(f'[bend]\nrule = "allowance"\nradius = "{radius}"')
    return replace(here, metal=replace(here.metal, thickness=Fraction(thickness)))


def flat_width(here: Shop, legs: str, bends: str) -> float:
    (strip,) = card("bent strip", legs=legs, bends=bends, length=10).make(here).pieces
    return float(outline(strip).width)


def test_the_u_channel_of_the_airframe_handbook() -> None:
    """T .040, R 5/32, mould lines 1, 2, 1 in: developed width 3.74 printed.

    Aviation Maintenance Technician Handbook, Airframe vol. 1 (FAA), ch. 4
    (flight-mechanic.com/layout-and-forming-part-two): setback 0.2, flats 0.8, 1.6, 0.8, two bends
    of 0.27. Unrounded: SB = 5/32 + .040 = .19625, BA = (.01743 x 5/32 + .0078 x .040) x 90 = .2732.
    """
    width = flat_width(bending("5/32", "0.040"), "1, 2, 1", "90, 90")
    assert width == pytest.approx(4 - 4 * 0.19625 + 2 * 0.27320, abs=1e-4)
    # with the setback that the book rounds up to 0.2, four times
    assert width - 4 * (0.2 - 0.19625) == pytest.approx(3.74, abs=0.01)


def test_a_bend_of_120_degrees_included() -> None:
    """T .040, R .16, included 120: a bend of 60 degrees, allowance 60 x 0.003034 = 0.18204.

    Same handbook (flight-mechanic.com/layout-and-forming-part-three). Setback (R + T) tan 30.
    """
    width = flat_width(bending("5/32", "0.040"), "2, 2", "60")
    setback = (0.15625 + 0.040) * math.tan(math.radians(30))
    assert width - 4 + 2 * setback == pytest.approx(0.18204, abs=2e-4)


@pytest.mark.parametrize(
    ("radius", "thickness", "allowance"),
    [
        # (0.01743 R + 0.0078 T) x 90, worked by hand
        ("1/32", "0.020", 0.0631),
        ("1/16", "0.032", 0.1305 - 0.0100),
        ("1/8", "0.040", 0.2242),
        ("1/8", "0.051", 0.2319),
    ],
)
def test_square_bends_in_thin_metal(radius: str, thickness: str, allowance: float) -> None:
    setback = float(Fraction(radius) + Fraction(thickness))
    width = flat_width(bending(radius, thickness), "2, 2", "-90")
    assert width == pytest.approx(4 - 2 * setback + allowance, abs=1e-4)


def test_sharp_bends_simply_add() -> None:
    # hat: 1 + 1 1/2 + 3 + 1 1/2 + 1 = 8; hems of 1/2 at both edges: 9
    cells = {"legs": "1, 1 1/2, 3, 1 1/2, 1", "bends": "90, -90, -90, 90", "length": 48}
    (strip,) = made("bent strip", **cells).pieces
    assert (outline(strip).width, outline(strip).length) == (8, 48)
    (hemmed,) = made("bent strip", edge_1="hem", edge_2="hem", **cells).pieces
    assert outline(hemmed).width == 9
    assert [hinge.angle for hinge in strip.hinges] == [90, -90, -90, 90]


@st.composite
def profiles(draw: st.DrawFn) -> tuple[list[Fraction], list[int]]:
    count = draw(st.integers(1, 6))
    legs = draw(st.lists(st.integers(8, 48), min_size=count, max_size=count))
    bend = st.integers(-135, 135).filter(bool)
    bends = draw(st.lists(bend, min_size=count - 1, max_size=count - 1))
    return [Fraction(leg, 16) for leg in legs], bends


@settings(max_examples=40, deadline=None)
@given(profiles(), st.integers(1, 96), st.booleans())
def test_any_profile_folds_to_its_legs_and_angles(
    profile: tuple[list[Fraction], list[int]], length: int, sharp: bool
) -> None:
    legs, bends = profile
    asked = card("bent strip", legs=tuple(legs), bends=tuple(map(float, bends)), length=length)
    try:
        result = asked.make(shop() if sharp else bending("1/32", "0.0217"))
    except CannotMake as error:
        # only a strip through itself is refused among these
        assert error.column == "bends"
        assume(False)
    assert_folds_and_meets(result)
    (strip,) = result.pieces
    folded = fold_in_place(strip)
    sides = [folded[f"leg {i + 1}"] for i in range(len(legs))]
    for leg, corners in zip(legs, sides, strict=True):
        assert np.linalg.norm(corners[1] - corners[0]) == pytest.approx(float(leg))
        assert np.ptp(corners[:, 1]) == pytest.approx(length)
    for bend, before, after in zip(bends, sides, sides[1:], strict=False):
        a, b = before[1] - before[0], after[1] - after[0]
        between = float(a @ b / np.linalg.norm(a) / np.linalg.norm(b))
        assert between == pytest.approx(math.cos(math.radians(bend)), abs=1e-9)
    if sharp:
        # the flat area is the area of the finished legs
        assert face_area(strip) == pytest.approx(float(sum(legs)) * length)


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"bends": "90"}, "bends"),
        ({"bends": "90, 90, 90"}, "bends"),
        ({"legs": "3/8, 2, 1"}, None),
        ({"legs": "5/16, 2, 1"}, "legs"),
        ({"legs": "3, 1, 3", "bends": "120, 120"}, "bends"),
        ({"legs": "1, 1, 1", "bends": "120, 120"}, None),
        ({"length": 96}, None),
        ({"length": "96 1/16"}, "length"),
        ({"edge_1": "slip and drive"}, "edge_1"),
        ({"legs": "30, 60, 30"}, None),
        ({"legs": "30, 61, 30"}, "length"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(
        card("bent strip", **{"legs": "1, 2, 1", "bends": "90, 90", "length": 60, **cells}), column
    )


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"legs": "1, 0, 1"}, "legs"),
        ({"legs": ""}, "legs"),
        ({"legs": "1, two"}, "legs"),
        ({"bends": "90, 181"}, "bends"),
        ({"bends": "90, 0"}, "bends"),
        ({"bends": "90, up"}, "bends"),
        ({"legs": ",".join(["1"] * 13)}, "legs"),
    ],
)
def test_what_is_no_profile_names_its_column(cells: dict[str, object], column: str) -> None:
    with pytest.raises(ValidationError) as caught:
        card("bent strip", **{"legs": "1, 2, 1", "bends": "90, 90", "length": 60, **cells})
    assert [error["loc"][0] for error in caught.value.errors()] == [column]
