"""Reducers, held against the true cone and its sector."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake, Made
from takeoff.pattern.facets import Piece
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.making import card, made
from tests.takeoff.fittings.rounds import (
    MANY,
    SIXTY_FOURTH,
    SOME,
    assert_sound,
    faces,
    girth,
    named,
    quarters,
    round_integral,
    sampled,
    sides,
)


def reducer(**cells: object) -> Made:
    return made("reducer", **cells)


def off_cone(
    points: np.ndarray, large: float, small: float, rise: float, offset: float
) -> np.ndarray:
    """How far points lie off the true cone, level: its sections are circles, centres on a line."""
    part = points[:, 2] / rise
    radius = (large + (small - large) * part) / 2
    return np.abs(np.hypot(points[:, 0] - offset * part, points[:, 1]) - radius)


def cone_area(large: float, small: float, rise: float, offset: float) -> float:
    """Lateral area between two circles in parallel planes, numerically from the surface itself.

    x(t, s) = s c + r(s) (cos t, sin t), z = s h with r from R to r: the area element is
    r(s) |h, R - r - c cos t| to first order in the turn, whose mean radius is (R + r) / 2.
    """

    def element(turns: np.ndarray) -> np.ndarray:
        lean = (large - small) / 2 - offset * np.cos(turns)
        return (large + small) / 4 * np.hypot(rise, lean)

    return round_integral(element)


def sector_angle(piece: Piece) -> float:
    """Degrees the flat pattern of a cone spans: what its lines turn from first to last."""
    first, last = faces(piece)[0].corners, faces(piece)[-1].corners
    ways = [
        math.atan2(float(b[1] - a[1]), float(b[0] - a[0]))
        for a, b in ((first[0], first[3]), (last[1], last[2]))
    ]
    return math.degrees(ways[1] - ways[0]) % 360


@SOME
@given(
    quarters(5, 16),
    st.integers(20, 90),
    st.integers(0, 4),
    st.integers(0, 2),
    st.sampled_from(["raw", "crimp", "flange out"]),
    st.integers(1, 3),
)
def test_any_reducer_folds_to_the_true_cone(
    large: Fraction, percent: int, offset: int, collar: int, end: str, pieces: int
) -> None:
    small = max(Fraction(int(4 * large) * percent // 100, 4), Fraction(3))
    rise = 3 + math.ceil((large - small) / 2) + offset
    cells = {"collar_1": collar, "collar_2": collar, "end_2": end, "pieces": pieces}
    if offset:
        cells["offset"] = offset
    result = reducer(large=large, small=small, length=rise + 2 * collar, **cells)
    assert_sound(result)
    cone = named(result, "cone")
    assert len(cone) == pieces
    for piece in cone:
        off = off_cone(sampled(piece), float(large), float(small), rise, offset)
        assert off.max() <= SIXTY_FOURTH
    # both openings have the asked girth
    assert sum(girth(piece, 0) for piece in cone) == pytest.approx(math.pi * float(large))
    assert sum(girth(piece, 2) for piece in cone) == pytest.approx(math.pi * float(small))
    heights = np.concatenate([sampled(piece)[:, 2] for piece in result.pieces])
    lap = 1.5 if end == "crimp" else 0
    assert np.ptp(heights) == pytest.approx(rise + 2 * collar + lap)


@MANY
@given(quarters(5, 20), st.integers(20, 90), st.integers(0, 5))
def test_the_area_is_the_cones(large: Fraction, percent: int, offset: int) -> None:
    small = Fraction(int(4 * large) * percent // 100, 4)
    rise = 2 + math.ceil((large - small) / 2) + offset
    cells = {"offset": offset} if offset else {}
    result = reducer(large=large, small=small, length=rise, **cells)
    expected = cone_area(float(large), float(small), rise, offset)
    assert face_area(*result.pieces) == pytest.approx(expected, rel=2e-3)


def test_a_frustum_from_a_drafting_book() -> None:
    """Longfield p. 128: diameters 6 and 3, altitude 3: slant 3.3541, area pi 4.5 x 3.3541."""
    (cone,) = reducer(large=6, small=3, length=3, divisions=480).pieces
    assert list(sides(cone, 1)) == pytest.approx([3.3541] * 480, abs=1e-4)
    assert face_area(cone) == pytest.approx(47.417, abs=0.001)
    (usual,) = reducer(large=6, small=3, length=3).pieces
    assert face_area(usual) == pytest.approx(47.417, rel=2e-3)


@pytest.mark.parametrize(("large", "small", "rise"), [(12, 8, 8), (6, 3, 3), (20, 19, 1)])
def test_the_sector_is_360_degrees_times_radii_over_slant(
    large: int, small: int, rise: int
) -> None:
    slant = math.hypot(rise, (large - small) / 2)
    rule = 360 * (large - small) / 2 / slant
    (cone,) = reducer(large=large, small=small, length=rise).pieces
    assert sector_angle(cone) == pytest.approx(rule, abs=0.02)
    # the large rim is an arc of the radius R S / (R - r)
    corners = np.array([[float(c) for c in f.corners[0]] for f in faces(cone)])
    fitted = np.linalg.lstsq(
        np.column_stack([2 * corners, np.ones(len(corners))]), (corners**2).sum(1), rcond=None
    )[0]
    radius = math.sqrt(fitted[2] + fitted[0] ** 2 + fitted[1] ** 2)
    assert radius == pytest.approx(large * slant / (large - small), rel=2e-3)


def test_flat_on_one_side_is_straight_there() -> None:
    (cone,) = reducer(large=10, small=6, length=6, align="flat side").pieces
    lines = list(sides(cone, 3))
    # the seam lies on the flat side; across, the cone leans over by 10 - 6
    assert min(lines) == pytest.approx(6, abs=1e-3)
    assert max(lines) == pytest.approx(math.hypot(6, 4), abs=5e-3)
    assert lines.index(min(lines)) == 0


def test_nearly_equal_ends_come_to_a_cylinder() -> None:
    (cone,) = reducer(large=8, small="7 63/64", length=10).pieces
    assert face_area(cone) == pytest.approx(math.pi * 8 * 10, rel=2e-3)


def test_a_flat_cone_is_made_in_pieces_that_do_not_overlap() -> None:
    """A sector of nearly 360 degrees has no room left for its seam edges."""
    toml = "[slope]\nsteepest = 85\n"
    result = made("reducer", toml, large=12, small=1, length="1/2")
    assert len(result.pieces) > 1
    assert any("lie over itself" in note for note in result.notes)
    assert_sound(result)


def test_collars_lap_onto_the_cone() -> None:
    result = reducer(large=10, small=8, length=8, collar_1=1, collar_2=2, end_2="crimp")
    assert [piece.name for piece in result.pieces] == ["cone", "collar", "collar"]
    kinds = [seam.kind for seam in result.seams]
    assert kinds.count("lap") == 2
    lengths = sorted(next(sides(piece, 1)) for piece in named(result, "collar"))
    assert lengths == pytest.approx([1, 3.5])


def test_coarse_divisions_are_told() -> None:
    coarse = reducer(large=14, small=10, length=8, divisions=12)
    assert any("coarse" in note for note in coarse.notes)
    assert girth(coarse.pieces[0], 0) == pytest.approx(math.pi * 14)
    assert not any("coarse" in note for note in reducer(large=14, small=10, length=8).notes)


@pytest.mark.parametrize(
    ("column", "cells", "allowed"),
    [
        ("small", {"small": 10}, "Less than 10 in"),
        ("length", {"length": "1 15/16"}, "2 in or more"),
        ("length", {"length": 4, "collar_1": 1, "offset": 2}, "5 in or more"),
        ("collar_2", {"collar_1": 2, "collar_2": 4}, "less than 6 in"),
        ("offset", {"align": "flat side", "offset": 1}, "2 in"),
        ("end_2", {"end_2": "drive"}, "raw"),
    ],
)
def test_what_cannot_be_made_says_what_can(
    column: str, cells: dict[str, object], allowed: str
) -> None:
    with pytest.raises(CannotMake, match=allowed) as refusal:
        reducer(**{"large": 10, "small": 6, "length": 6, **cells})
    assert refusal.value.column == column


@pytest.mark.parametrize(
    "cells",
    [
        {"length": 2},
        {"small": "9 15/16"},
        {"length": 5, "collar_1": 1, "offset": 2},
        {"length": 7, "collar_1": 1, "collar_2": "3 15/16"},
    ],
)
def test_the_limits_themselves_are_made(cells: dict[str, object]) -> None:
    assert_sound(reducer(**{"large": 10, "small": 6, "length": 6, **cells}))


@pytest.mark.parametrize(
    "cells", [{"small": 0}, {"divisions": 13}, {"divisions": 492}, {"pieces": 5}, {"offset": 0}]
)
def test_sizes_beyond_the_limits_are_refused(cells: dict[str, object]) -> None:
    with pytest.raises(ValidationError) as refusal:
        card("reducer", **{"large": 10, "small": 6, "length": 6, **cells})
    assert refusal.value.errors()[0]["loc"] == tuple(cells)
