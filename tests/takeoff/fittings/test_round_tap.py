"""Round taps: the branch's cut and the parent's hole are one curve on two surfaces."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pydantic import ValidationError
from shapely.geometry import Polygon

from takeoff.fittings import CannotMake, Made
from takeoff.pattern.facets import Piece
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.making import card, made
from tests.takeoff.fittings.rounds import (
    MANY,
    SIXTY_FOURTH,
    SOME,
    assert_sound,
    folded_faces,
    girth,
    quarters,
    round_integral,
    sampled,
    strips,
)

ANGLES = st.sampled_from([90.0, 45.0, 60.0, 75.0, 30.0])


def tap(**cells: object) -> Made:
    return made("round tap", **{"end_1": "raw", "end_2": "raw", **cells})


def branch_axis(angle: float) -> np.ndarray:
    """The branch's axis passes the origin, in the plane y = 0, leaning towards x."""
    return np.array([math.cos(math.radians(angle)), 0, math.sin(math.radians(angle))])


def off_branch(points: np.ndarray, angle: float, diameter: float) -> np.ndarray:
    along = branch_axis(angle)
    away = points - np.outer(points @ along, along)
    return np.abs(np.linalg.norm(away, axis=1) - diameter / 2)


def above_parent(points: np.ndarray, parent: float | None) -> np.ndarray:
    """Height above the wall, or over the parent's round; its axis is along x, its crest at 0."""
    if parent is None:
        return points[:, 2]
    return np.hypot(points[:, 1], points[:, 2] + parent / 2) - parent / 2


def rolled_up(hole: np.ndarray, parent: float | None) -> np.ndarray:
    """The hole's boundary on the parent in space: its sheet, inside up, laid round it."""
    if parent is None:
        return np.column_stack([hole[:, 0], -hole[:, 1], np.zeros(len(hole))])
    turn = -hole[:, 1] / (parent / 2)
    return np.column_stack([hole[:, 0], parent / 2 * np.sin(turn), parent / 2 * (np.cos(turn) - 1)])


def hole_of(result: Made) -> np.ndarray:
    (cutout,) = result.cutouts
    return np.array([[float(c) for c in point] for point in cutout.points])


def lines(piece: Piece) -> list[float]:
    """The lengths of the branch's lines from its seam on: shortest there."""
    return [float(np.linalg.norm(c[3] - c[0])) for c in folded_faces(piece).values()]


def line(
    turns: np.ndarray, diameter: float, parent: float | None, angle: float, top: float
) -> np.ndarray:
    """The length of the branch at an angle round it from its shortest line, on paper."""
    radius, lean = diameter / 2, math.radians(angle)
    fall = np.zeros(len(turns))
    if parent is not None:
        depth = (parent / 2) ** 2 - (radius * np.sin(turns)) ** 2
        fall = np.sqrt(np.maximum(depth, 0)) - parent / 2
    return top - (fall + radius * np.cos(turns) * math.cos(lean)) / math.sin(lean)


@SOME
@given(
    quarters(4, 12),
    st.one_of(st.none(), quarters(4, 16)),
    ANGLES,
    st.sampled_from(["raw", "dovetail", "flange out"]),
    st.sampled_from([None, 2]),
)
def test_any_tap_lies_on_its_branch_and_on_its_parent(
    diameter: Fraction, parent: Fraction | None, angle: float, end_1: str, pieces: int | None
) -> None:
    assume(parent is None or parent >= diameter)
    lean = math.radians(angle)
    bend = math.cos(lean) / float(diameter) + (1 / float(parent) if parent else 0)
    assume(end_1 != "flange out" or math.sin(lean) > 2.01 * bend)
    cells = {} if parent is None else {"parent_diameter": parent}
    result = tap(diameter=diameter, angle=angle, length=26, end_1=end_1, pieces=pieces, **cells)
    assert_sound(result)
    across = None if parent is None else float(parent)
    for piece in result.pieces:
        assert off_branch(sampled(piece), angle, float(diameter)).max() <= SIXTY_FOURTH
        cut = np.vstack([corners[:2] for corners in folded_faces(piece).values()])
        assert np.abs(above_parent(cut, across)).max() <= SIXTY_FOURTH
        top = np.vstack([corners[2:] for corners in folded_faces(piece).values()])
        assert top @ branch_axis(angle) == pytest.approx(np.full(len(top), 26))
    if len(result.pieces) == 1:
        found = np.array(lines(result.pieces[0]))
        turns = (np.arange(len(found)) + 0.5) * 2 * math.pi / len(found)
        true = line(turns, float(diameter), across, angle, 26)
        assert np.abs((found + np.roll(found, -1)) / 2 - true).max() <= SIXTY_FOURTH
    assert sum(girth(piece, 2) for piece in result.pieces) == pytest.approx(
        math.pi * float(diameter)
    )


@MANY
@given(quarters(3, 12), st.one_of(st.none(), quarters(3, 20)), ANGLES)
def test_the_hole_has_the_shape_of_the_branch_that_goes_in(
    diameter: Fraction, parent: Fraction | None, angle: float
) -> None:
    """Laid round the parent, every point of it lies on the branch, and on the branch's own cut."""
    assume(parent is None or parent >= diameter)
    cells = {} if parent is None else {"parent_diameter": parent}
    result = tap(diameter=diameter, angle=angle, length=26, **cells)
    hole = hole_of(result)
    space = rolled_up(hole, None if parent is None else float(parent))
    assert off_branch(space, angle, float(diameter)).max() < 1e-6
    (piece,) = result.pieces
    cut = np.vstack([corners[:1] for corners in folded_faces(piece).values()])
    assert len(cut) == len(hole)
    # the branch's corners lie on the polygon of true girth, a little outside the true round
    assert np.linalg.norm(cut - space, axis=1).max() <= SIXTY_FOURTH
    assert Polygon(hole).is_valid


@MANY
@given(quarters(3, 12), st.one_of(st.none(), quarters(3, 20)), ANGLES)
def test_the_area_is_that_of_the_cut_cylinder(
    diameter: Fraction, parent: Fraction | None, angle: float
) -> None:
    """The integral of the lines' lengths round the girth; on a wall it is pi d L."""
    assume(parent is None or parent >= diameter)
    cells = {} if parent is None else {"parent_diameter": parent}
    (piece,) = tap(diameter=diameter, angle=angle, length=26, **cells).pieces
    across = None if parent is None else float(parent)
    area = round_integral(lambda turns: line(turns, float(diameter), across, angle, 26))
    assert face_area(piece) == pytest.approx(float(diameter) / 2 * area, rel=1e-3)
    if parent is None:
        assert face_area(piece) == pytest.approx(math.pi * float(diameter) * 26)


def test_square_on_a_wall_it_is_a_pipe_and_a_round_hole() -> None:
    result = tap(diameter=6, length=4)
    (cutout,) = result.cutouts
    assert cutout.diameter == 6
    assert np.hypot(*hole_of(result).T) == pytest.approx(np.full(len(cutout.points), 3))
    assert lines(result.pieces[0]) == pytest.approx([4] * len(lines(result.pieces[0])))


def test_at_45_degrees_on_a_wall_the_hole_is_an_ellipse() -> None:
    """Half axes r and r / sin 45; the cut is the mitre's sine curve r cos t / tan 45."""
    result = tap(diameter=6, angle=45, length=10)
    hole = hole_of(result)
    assert result.cutouts[0].diameter is None
    assert hole.max(axis=0) == pytest.approx((3 * math.sqrt(2), 3))
    ellipse = (hole[:, 0] / (3 * math.sqrt(2))) ** 2 + (hole[:, 1] / 3) ** 2
    assert ellipse == pytest.approx(np.ones(len(hole)))
    assert Polygon(hole).area == pytest.approx(math.pi * 9 * math.sqrt(2), rel=5e-3)
    count = len(hole)
    exact = [10 - 3 * math.cos(2 * math.pi * i / count) for i in range(count)]
    assert lines(result.pieces[0]) == pytest.approx(exact)


def test_equal_pipes_at_a_right_angle_meet_in_two_half_mitres() -> None:
    """Two equal cylinders cross in planes at 45 degrees: the cut falls r (1 - |cos t|)."""
    result = tap(diameter=8, parent_diameter=8, length=5)
    found = lines(result.pieces[0])
    count = len(found)
    exact = [5 + 4 * (1 - abs(math.cos(2 * math.pi * i / count))) for i in range(count)]
    assert found == pytest.approx(exact, abs=1e-9)
    # the hole reaches a quarter of the parent's girth to either side
    assert np.abs(hole_of(result)[:, 1]).max() == pytest.approx(math.pi * 8 / 4)


def test_on_a_very_large_parent_it_is_cut_as_on_a_wall() -> None:
    wall, pipe = (
        tap(diameter=6, length=8, angle=60),
        tap(diameter=6, length=8, angle=60, parent_diameter=600),
    )
    assert np.abs(hole_of(wall) - hole_of(pipe)).max() < 0.02


def test_tabs_lie_on_the_parent() -> None:
    """Square on a wall every tab is bent 90 degrees; at 45 from 45 to 135."""
    square = tap(diameter=6, length=4, end_1="dovetail").pieces[0]
    angles = {h.child: h.angle for h in square.hinges}
    assert {round(angles[tab.name], 6) for tab in strips(square, "tab")} == {-90}
    leaning = tap(diameter=6, length=8, angle=45, end_1="dovetail")
    angles = {h.child: h.angle for h in leaning.pieces[0].hinges}
    turned = [angles[tab.name] for tab in strips(leaning.pieces[0], "tab")]
    assert (min(turned), max(turned)) == pytest.approx((-135, -45), abs=1)
    assert any("tabs" in note for note in leaning.notes)


def test_a_flange_too_wide_for_the_arch_is_refused() -> None:
    """Radius of the arch, two equal 3 in pipes at 45: sin 45 / ((1 + cos 45) / 1.5) = 0.6213."""
    cells = {"diameter": 3, "parent_diameter": 3, "angle": 45, "length": 8, "end_1": "flange out"}
    with pytest.raises(CannotMake, match="19/32 in or less") as refusal:
        tap(**cells)
    assert refusal.value.column == "end_1"
    narrower = '[ends.flange_out.strips.flange]\nwidth = "19/32"\nangle = -90\n'
    assert_sound(made("round tap", narrower, **cells, end_2="raw"))


@pytest.mark.parametrize(
    ("column", "cells", "allowed"),
    [
        ("diameter", {"parent_diameter": "5 15/16"}, "5 15/16 in or less"),
        ("length", {"length": "7/16"}, "1/2 in or more"),
        ("length", {"length": 3, "angle": 45}, "3 1/2 in or more"),
        ("end_1", {"end_1": "crimp"}, "dovetail"),
        ("end_2", {"end_2": "slip"}, "raw"),
    ],
)
def test_what_cannot_be_made_says_what_can(
    column: str, cells: dict[str, object], allowed: str
) -> None:
    with pytest.raises(CannotMake, match=allowed) as refusal:
        tap(**{"diameter": 6, "length": 4, **cells})
    assert refusal.value.column == column


@pytest.mark.parametrize(
    "cells",
    [
        {"parent_diameter": 6},
        {"length": "1/2"},
        {"length": "3 1/2", "angle": 45},
        {"angle": 30, "length": 6},
    ],
)
def test_the_limits_themselves_are_made(cells: dict[str, object]) -> None:
    assert_sound(tap(**{"diameter": 6, "length": 4, **cells}))


@pytest.mark.parametrize("cells", [{"angle": 29}, {"angle": 91}, {"length": 0}, {"pieces": 5}])
def test_sizes_beyond_the_limits_are_refused(cells: dict[str, object]) -> None:
    with pytest.raises(ValidationError) as refusal:
        card("round tap", **{"diameter": 6, "length": 4, **cells})
    assert refusal.value.errors()[0]["loc"] == tuple(cells)
