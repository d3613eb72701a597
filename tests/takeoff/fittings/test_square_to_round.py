"""Square to round, held against the triangulation of the trade and the exact surface."""

import math
from fractions import Fraction
from itertools import pairwise

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
    folded_faces,
    girth,
    named,
    quarters,
    sampled,
    strips,
)

SAMPLE = {"width": 20, "height": 16, "diameter": 14, "length": 12, "end_1": "raw"}
"""20 x 16 to 14 round, 12 high, centred."""
INSCRIBED_14 = 14 * math.sin(math.pi / 16) / (math.pi / 16)
"""The diameter whose girth is that of 16 chords of a 14 in circle."""


def fitting(**cells: object) -> Made:
    return made("square to round", **cells)


def off_surface(
    points: np.ndarray, size: tuple[float, float], diameter: float, rise: float, offset: np.ndarray
) -> np.ndarray:
    """How far points lie off the true surface, level.

    Its section at a part s of the rise is the rectangle shrunk by 1 - s with a rim of s R round it
    (the convex hull of rectangle and circle), so the distance to it is that of a rounded box.
    """
    part = points[:, 2:] / rise
    from_box = np.abs(points[:, :2] - offset * part) - np.array(size) / 2 * (1 - part)
    outside = np.linalg.norm(np.maximum(from_box, 0), axis=1)
    inside = np.minimum(from_box.max(axis=1), 0)
    return np.abs(outside + inside - diameter / 2 * part[:, 0])


def surface_area(
    size: tuple[float, float], diameter: float, rise: float, offset: np.ndarray
) -> float:
    """Four flat triangles and four quarter cones, each cone by the integral 1/2 |p x dp|."""
    x, y = size[0] / 2, size[1] / 2
    corners = [(x, y), (-x, y), (-x, -y), (x, -y)]
    total = 0.0
    for quarter, corner in enumerate(corners):
        turns = (quarter + (np.arange(2000) + 0.5) / 2000) * math.pi / 2
        rim = np.column_stack(
            [offset[0] + diameter / 2 * np.cos(turns), offset[1] + diameter / 2 * np.sin(turns)]
        )
        arm = np.column_stack([rim - np.array(corner), np.full(len(rim), rise)])
        step = np.column_stack([-np.sin(turns), np.cos(turns), np.zeros(len(rim))]) * diameter / 2
        swept = np.linalg.norm(np.cross(arm, step), axis=1).mean() * math.pi / 2 / 2
        side = (size[1], size[0])[quarter % 2]
        run = (
            x - offset[0] - diameter / 2,
            y - offset[1] - diameter / 2,
            x + offset[0] - diameter / 2,
            y + offset[1] - diameter / 2,
        )[quarter]
        total += float(swept) + side * math.hypot(rise, run) / 2
    return total


def lines(pieces: tuple[Piece, ...], corner: str) -> list[float]:
    """The flat lengths from a corner of the rectangle to the points of its quarter."""
    found: list[float] = []
    for piece in pieces:
        for facet in faces(piece):
            if facet.name.startswith(f"{corner} corner"):
                at, after, before = (np.array([float(c) for c in p]) for p in facet.corners)
                if not found:
                    found.append(float(np.linalg.norm(before - at)))
                found.append(float(np.linalg.norm(after - at)))
    return found


@SOME
@given(
    quarters(6, 24),
    quarters(6, 18),
    quarters(4, 14),
    st.tuples(st.integers(-4, 4), st.integers(-4, 4)),
    st.integers(1, 4),
    st.tuples(st.sampled_from([0, 1, 2]), st.sampled_from([0, 2])),
    st.sampled_from(["slip and drive", "flange out", "flange in", "hem", "raw"]),
    st.sampled_from(["raw", "crimp", "flange out"]),
)
def test_any_square_to_round_folds_to_the_true_surface(
    width: Fraction,
    height: Fraction,
    diameter: Fraction,
    offset: tuple[int, int],
    pieces: int,
    collars: tuple[int, int],
    end_1: str,
    end_2: str,
) -> None:
    rise = 16
    result = fitting(
        width=width,
        height=height,
        diameter=diameter,
        length=rise + sum(collars),
        offset_side=offset[0],
        offset_up=offset[1],
        pieces=pieces,
        collar_1=collars[0],
        collar_2=collars[1],
        end_1=end_1,
        end_2=end_2,
    )
    assert_sound(result)
    body = named(result, "body")
    assert len(body) == pieces
    size = float(width), float(height)
    for piece in body:
        off = off_surface(sampled(piece), size, float(diameter), rise, np.array(offset))
        assert off.max() <= SIXTY_FOURTH
    # the square end has the asked corners, the round end the asked girth
    feet = np.vstack([corners[np.abs(corners[:, 2]) < 1e-9] for corners in _corners(body)])
    assert feet.max(axis=0)[:2] * 2 == pytest.approx(size)
    assert feet.min(axis=0)[:2] * -2 == pytest.approx(size)
    assert round_girth(body) == pytest.approx(math.pi * float(diameter))


def _corners(pieces: tuple[Piece, ...]) -> list[np.ndarray]:
    return [corners for piece in pieces for corners in folded_faces(piece).values()]


def round_girth(pieces: tuple[Piece, ...]) -> float:
    """The flat length of the round rim (in)."""
    total = 0.0
    for piece in pieces:
        for facet in faces(piece):
            if " corner " in facet.name:
                _, after, before = (np.array([float(c) for c in p]) for p in facet.corners)
                total += float(np.linalg.norm(after - before))
    return total


@MANY
@given(
    quarters(4, 24),
    quarters(4, 24),
    quarters(3, 14),
    st.tuples(st.integers(-6, 6), st.integers(-6, 6)),
    st.integers(1, 4),
)
def test_the_area_is_that_of_planes_and_cones(
    width: Fraction,
    height: Fraction,
    diameter: Fraction,
    offset: tuple[int, int],
    pieces: int,
) -> None:
    result = fitting(
        width=width,
        height=height,
        diameter=diameter,
        length=20,
        offset_side=offset[0],
        offset_up=offset[1],
        pieces=pieces,
    )
    size = float(width), float(height)
    exact = surface_area(size, float(diameter), 20, np.array(offset))
    assert face_area(*result.pieces) == pytest.approx(exact, rel=1e-3)


PUBLISHED_LINES = [14.7309, 13.5940, 13.3720, 14.1404, 15.6525]
"""Corner to points 0, 22.5, 45, 67.5, 90 degrees of a 14 in circle (calculated)."""


def test_true_lengths_of_the_trades_triangulation() -> None:
    """16 chords of a 14 in circle: lines as calculated, chord step 2.7313."""
    result = fitting(**{**SAMPLE, "diameter": INSCRIBED_14, "divisions": 4})
    assert lines(result.pieces, "right") == pytest.approx(PUBLISHED_LINES, abs=1e-4)
    assert round_girth(result.pieces) / 16 == pytest.approx(2.7313, abs=1e-4)


def test_true_lengths_hold_at_the_usual_divisions() -> None:
    """The polygon of true girth lies so near the circle that its lines are the circle's."""
    result = fitting(**SAMPLE)
    found = lines(result.pieces, "right")
    assert len(found) == 13
    assert found[::3] == pytest.approx(PUBLISHED_LINES, abs=SIXTY_FOURTH)
    # the true girth, arcs of 2.7489 and not chords of 2.7313
    assert round_girth(result.pieces) / 16 == pytest.approx(2.7489, abs=1e-4)


def test_heights_of_the_flat_triangles() -> None:
    """sqrt(12^2 + (10 - 7)^2) = 12.3693 on the 16 sides, 12.0416 on the 20 sides (calculated)."""
    result = fitting(**SAMPLE, divisions=60, pieces=4)
    heights = {}
    for piece in result.pieces:
        for facet in faces(piece):
            if " side" in facet.name:
                start, end, top = (np.array([float(c) for c in p]) for p in facet.corners)
                (ax, ay), (bx, by) = end - start, top - start
                heights[facet.name.split()[0]] = abs(ax * by - ay * bx) / math.hypot(ax, ay)
    assert heights["right"] == pytest.approx(12.3693, abs=5e-4)
    assert heights["left"] == pytest.approx(12.3693, abs=5e-4)
    assert heights["front"] == pytest.approx(12.0416, abs=5e-4)
    assert heights["back"] == pytest.approx(12.0416, abs=5e-4)


def test_more_divisions_approach_the_exact_planes_and_cones() -> None:
    """The gap to the exact area and the exact surface falls with the square of the divisions."""
    exact = surface_area((20, 16), 14, 12, np.zeros(2))
    misses, offs = [], []
    for divisions in (5, 10, 20, 40):
        (body,) = fitting(**SAMPLE, divisions=divisions).pieces
        misses.append(abs(face_area(body) - exact))
        offs.append(off_surface(sampled(body), (20, 16), 14, 12, np.zeros(2)).max())
    for coarse, fine in pairwise(misses):
        assert coarse / fine == pytest.approx(4, rel=0.1)
    for coarse, fine in pairwise(offs):
        assert coarse / fine == pytest.approx(4, rel=0.1)
    assert offs[-1] < 0.004


def test_a_small_square_comes_to_a_cone() -> None:
    """Four corners in one point: a cone, its area pi r times the slant."""
    toml = "[seams.grooved]\npocket = 0\nsingle = 0\n"
    cells = {"width": "1/256", "height": "1/256", "diameter": 8, "length": 10}
    result = made("square to round", toml, **cells, end_1="raw", divisions=24)
    assert face_area(*result.pieces) == pytest.approx(math.pi * 4 * math.hypot(10, 4), rel=1e-3)


def test_a_seam_lies_where_its_side_is_shortest() -> None:
    result = fitting(**SAMPLE, pieces=1)
    (seam,) = result.seams
    # the long sides are 12.0416 high, the short ones 12.3693
    assert seam.receiving.edges[0][0].startswith("front")


def test_two_equal_halves_of_a_centred_one() -> None:
    halves = named(fitting(**SAMPLE, pieces=2), "body")
    assert face_area(halves[0]) == pytest.approx(face_area(halves[1]))


def test_drive_edges_go_on_the_short_sides() -> None:
    result = fitting(**{**SAMPLE, "end_1": "slip and drive"}, pieces=4)
    driven = [facet.name for piece in result.pieces for facet in strips(piece, "drive")]
    assert sorted({name.split()[0] for name in driven}) == ["left", "right"]


def test_a_square_end_has_two_drive_edges_as_the_duct_it_joins() -> None:
    square = fitting(width=12, height=12, diameter=12, length=9)
    (duct,) = made("straight duct", width=12, height=12, length=24).pieces
    on_duct = {h.parent for h in duct.hinges if duct.facet(h.child).label == "drive"}
    driven = {
        name.split()[0]
        for piece in square.pieces
        for name in (h.parent for h in piece.hinges if piece.facet(h.child).label == "drive")
    }
    assert driven == on_duct == {"left", "right"}


def test_collars_are_pieces_of_their_own() -> None:
    result = fitting(**{**SAMPLE, "length": 15}, collar_1=1, collar_2=2, pieces=2)
    assert [piece.name for piece in result.pieces] == [
        "body",
        "body",
        "square collar",
        "square collar",
        "collar",
    ]
    (collar,) = named(result, "collar")
    assert girth(collar, 2) == pytest.approx(math.pi * 14)
    square = sum(girth(piece, 0) for piece in named(result, "square collar"))
    assert square == pytest.approx(72)


def test_bend_allowances_leave_the_collar_its_size() -> None:
    """Laps at another angle on every side take off their bends unequally, and still it folds."""
    toml = '[bend]\nrule = "allowance"\nradius = "1/8"\n'
    cells = {**SAMPLE, "length": 14, "offset_side": 4, "collar_1": 2, "end_1": "flange out"}
    assert_sound(made("square to round", toml, **cells))


def test_coarse_divisions_are_told() -> None:
    assert any("coarse" in note for note in fitting(**SAMPLE, divisions=4).notes)
    assert not any("coarse" in note for note in fitting(**SAMPLE).notes)


@pytest.mark.parametrize(
    ("column", "cells", "allowed"),
    [
        ("length", {"length": "2 15/16"}, "3 in or more"),
        ("length", {"length": 12, "offset_side": "-10"}, "13 in or more"),
        ("collar_1", {"collar_1": 8, "collar_2": 4}, "less than 12 in"),
        ("end_1", {"end_1": "crimp"}, "flange"),
        ("end_2", {"end_2": "drive"}, "raw"),
        ("pieces", {"width": 90, "length": 50, "pieces": 1}, "more pieces"),
    ],
)
def test_what_cannot_be_made_says_what_can(
    column: str, cells: dict[str, object], allowed: str
) -> None:
    with pytest.raises(CannotMake, match=allowed) as refusal:
        fitting(**{**SAMPLE, **cells})
    assert refusal.value.column == column


@pytest.mark.parametrize(
    "cells", [{"length": 3}, {"length": 13, "offset_side": -10}, {"offset_up": "-2 1/2"}]
)
def test_the_limits_themselves_are_made(cells: dict[str, object]) -> None:
    assert_sound(fitting(**{**SAMPLE, **cells}))


@pytest.mark.parametrize(
    "cells",
    [{"divisions": 1}, {"divisions": 61}, {"pieces": 0}, {"pieces": 5}, {"offset_side": "51'"}],
)
def test_sizes_beyond_the_limits_are_refused(cells: dict[str, object]) -> None:
    with pytest.raises(ValidationError) as refusal:
        card("square to round", **{**SAMPLE, **cells})
    assert refusal.value.errors()[0]["loc"] == tuple(cells)
