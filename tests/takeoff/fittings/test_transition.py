"""Transitions: folded, measured, and held against published and closed-form sizes."""

import math
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake, Made
from takeoff.pattern.facets import Role
from takeoff.pattern.outline import outline
from tests.takeoff.covered import face_area, polygon
from tests.takeoff.fittings.folded import TOLERANCE, assert_folds_and_meets, extent_at, face_points
from tests.takeoff.fittings.making import card as card_of
from tests.takeoff.fittings.making import made, shop, sizes

SHEETS = ((400, 800),)
PUBLISHED = '[seams.pittsburgh]\npocket = "15/16"\n'
BARE = {"end_1": "raw", "end_2": "raw", "collar_1": "0", "collar_2": "0"}


def eighths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    return st.integers(low * 8, high * 8).map(lambda n: Fraction(n, 8))


@st.composite
def transitions(draw: st.DrawFn, turned: bool) -> dict[str, object]:
    """Valid cards: long enough for the offsets drawn, in all axes and with or without collars."""
    first, second = [(draw(eighths(4, 40)), draw(eighths(4, 40))) for _ in range(2)]
    shift = [draw(eighths(-12, 12)) for _ in range(2)]
    lean, twist = (draw(st.integers(-30, 30)) for _ in range(2)) if turned else (0, 0)
    reach = max(abs(shift[i]) + abs(first[i] - second[i]) / 2 for i in (0, 1))
    tilt = sum(first) + sum(second) if turned else 0
    collars = [draw(st.sampled_from([Fraction(0), Fraction(1), Fraction(2)])) for _ in range(2)]
    ends = st.sampled_from(["raw", "slip and drive", "flange out", "flange in", "hem", "drive"])
    return {
        "width": first[0],
        "height": first[1],
        "width_2": second[0],
        "height_2": second[1],
        "length": reach + tilt + sum(collars) + draw(eighths(3, 40)),
        "offset_side": shift[0],
        "offset_up": shift[1],
        "lean": lean,
        "twist": twist,
        "collar_1": collars[0],
        "collar_2": collars[1],
        "end_1": draw(ends),
        "end_2": draw(ends),
    }


def opening_2(card: dict[str, object]) -> np.ndarray:
    """The corners of opening 2 by rotation matrices, shape (4, 3)."""
    half = np.array([float(card["width_2"]) / 2, float(card["height_2"]) / 2])  # type: ignore[arg-type]
    flat = np.array([(a, b) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]) * half
    lean, twist = (math.radians(float(card[key])) for key in ("lean", "twist"))  # type: ignore[arg-type]
    c, s = math.cos(twist), math.sin(twist)
    flat = flat @ np.array([[c, -s], [s, c]])
    corners = np.column_stack([flat[:, 0], np.zeros(4), flat[:, 1]])
    about_x = np.array(
        [[1, 0, 0], [0, math.cos(lean), -math.sin(lean)], [0, math.sin(lean), math.cos(lean)]]
    )
    centre = np.array([float(card[key]) for key in ("offset_side", "length", "offset_up")])  # type: ignore[arg-type]
    return corners @ about_x.T + centre


def panel(fitting: Made, name: str) -> object:
    return next(p.facet(name) for p in fitting.pieces if any(f.name == name for f in p.facets))


@settings(max_examples=25, deadline=None)
@given(transitions(turned=False))
def test_any_square_transition_folds_and_has_the_area_of_its_trapezoids(
    card: dict[str, object],
) -> None:
    fitting = big(card)
    assert_folds_and_meets(fitting)
    w1, h1, w2, h2, length, c1, c2, side, up = (
        float(card[key])  # type: ignore[arg-type]
        for key in (
            "width", "height", "width_2", "height_2", "length", "collar_1", "collar_2",
            "offset_side", "offset_up",
        )
    )  # fmt: skip
    run = length - c1 - c2
    # a trapezoid: mean of its parallel sides times its slant height
    area = 2 * (w1 + h1) * c1 + 2 * (w2 + h2) * c2
    for sign in (-1, 1):
        area += (w1 + w2) / 2 * math.hypot(run, up + sign * (h2 - h1) / 2)
        area += (h1 + h2) / 2 * math.hypot(run, side + sign * (w2 - w1) / 2)
    assert face_area(*fitting.pieces) == pytest.approx(area)
    points = face_points(*fitting.pieces)
    assert extent_at(points, 1, 0.0) == pytest.approx([w1, h1])
    assert extent_at(points, 1, length) == pytest.approx([w2, h2])
    assert not any("warped" in note for note in fitting.notes), "parallel edges lie in a plane"


@settings(max_examples=25, deadline=None)
@given(transitions(turned=True))
def test_any_turned_transition_folds_onto_its_openings(card: dict[str, object]) -> None:
    fitting = big(card)
    assert_folds_and_meets(fitting)
    points = face_points(*fitting.pieces)
    for corner in opening_2(card):
        assert np.linalg.norm(points - corner, axis=1).min() < TOLERANCE
    creases = sum("warped" in note for note in fitting.notes)
    collars = bool(card["collar_1"]) + bool(card["collar_2"])
    faces = sum(f.role is Role.FACE for p in fitting.pieces for f in p.facets)
    assert faces <= 4 * (1 + collars) + creases


def big(card: dict[str, object]) -> Made:
    return card_of("transition", **card).make(shop("[brake]\nlength = 400\n", sheets=SHEETS))


def test_two_piece_transition_two_piece_transition_flat_on_one_side() -> None:
    """Wrap 20+8+20 + 2 x 1/4 = 48-1/2 at one end, 18+8+18 + 1/2 = 44-1/2 at the other, by 24.

    The sloping side is sqrt(24^2 + 2^2) = 24.083 (printed 24-1/16) by 8 + 2 x 15/16 = 9-7/8.
    "Fundamentals: Fabricating Fittings for Ductwork", 2002, achrnews.com/articles/87804; its
    print rounds to sixteenths.
    """
    row = {"width": "20", "height": "8", "width_2": "18", "length": "24", "flat_on": "left"}
    fitting = made("transition", PUBLISHED, **row, **BARE)
    wrap, side = fitting.pieces
    points = np.array([[float(x), float(y)] for x, y in outline(wrap).points])
    first, second = (
        points[np.abs(points[:, 0] - x) < 0.3, 1] for x in np.ptp(points[:, 0]) * np.array([1, 0])
    )
    assert np.ptp(first) == pytest.approx(48.5, abs=1 / 16)
    assert np.ptp(second) == pytest.approx(44.5, abs=1 / 16)
    left = np.array([[float(x), float(y)] for x, y in wrap.facet("left").corners])
    assert np.ptp(left[:, 0]) == pytest.approx(24)
    assert sorted(map(float, sizes((side,))["side"])) == pytest.approx(
        [9 + 7 / 8, 24 + 1 / 16], abs=1 / 16
    )


def test_two_l_equal_openings_in_two_ells_are_the_published_straight_duct() -> None:
    """W + H = 28 -> 29-3/16 by 48; W + H = 22 -> 23-3/16 by 24, with a pocket of 15/16
    and a single edge of 1/4. "Fundamentals: The Fabrication Shop", achrnews.com/articles/90151.
    """
    for width, height, length, wide in (("20", "8", "48", 29.1875), ("14", "8", "24", 23.1875)):
        row = {"width": width, "height": height, "length": length, "arrangement": "two L"}
        fitting = made("transition", PUBLISHED, **row, **BARE)
        for piece in fitting.pieces:
            shape = outline(piece)
            assert sorted(map(float, (shape.width, shape.length))) == sorted([wide, float(length)])


def test_centred_transition_true_lengths_of_a_centred_transition() -> None:
    """Worked: 20x16 to 14x12, 12 long: slants sqrt(12^2+2^2) = 12.1655 and sqrt(12^2+3^2) =
    12.3693, corner edge sqrt(12^2+3^2+2^2) = 12.5300, net area 759.97 in2.
    """
    row = {"width": "20", "height": "16", "width_2": "14", "height_2": "12", "length": "12"}
    fitting = made("transition", **row, **BARE)
    assert face_area(*fitting.pieces) == pytest.approx(759.97, abs=0.01)
    for name, slant in (("bottom", 12.1655), ("right", 12.3693)):
        corners = polygon(panel(fitting, name).corners).exterior.coords  # type: ignore[attr-defined]
        steps = sorted(math.dist(a, b) for a, b in pairwise(corners))
        assert steps.count(pytest.approx(12.5300, abs=1e-4)) == 2
        area = polygon(panel(fitting, name).corners).area  # type: ignore[attr-defined]
        wide = {"bottom": 17, "right": 14}[name]
        assert area / wide == pytest.approx(slant, abs=1e-4)


def test_hood_slant_of_a_hood() -> None:
    """Height 57 with a turn-down of 2, depth 30: sqrt(55^2 + 30^2) = 62.65, "62-2/3 nearly".
    Atkins, Practical Sheet and Plate Metal Work, ch. VIII (chestofbooks.com).
    """
    row = {"width": "40", "height": "20", "width_2": "10", "length": "57", "flat_on": "left"}
    fitting = made("transition", **row, end_1="raw", end_2="raw", collar_1="2", collar_2="0")
    area = polygon(panel(fitting, "right 2").corners).area  # type: ignore[attr-defined]
    assert area / 20 == pytest.approx(62.65, abs=0.005)


@settings(max_examples=20, deadline=None)
@given(eighths(4, 30), eighths(4, 30), eighths(6, 40), st.booleans())
def test_between_equal_openings_it_is_a_straight_duct(
    width: Fraction, height: Fraction, length: Fraction, collars: bool
) -> None:
    given_collars = {} if collars else {"collar_1": "0", "collar_2": "0"}
    row = {"width": width, "height": height, "arrangement": "two L", "length": length}
    mine = made("transition", **row, **given_collars)
    straight = made("straight duct", **row)
    rectangles = [
        sorted(sorted(map(float, (outline(p).width, outline(p).length))) for p in each.pieces)
        for each in (mine, straight)
    ]
    assert rectangles[0] == [pytest.approx(size) for size in rectangles[1]]
    assert face_area(*mine.pieces) == pytest.approx(face_area(*straight.pieces))


@pytest.mark.parametrize(
    ("flat_on", "x", "z"),
    [("none", 0, 0), ("left", -3, 0), ("right", 3, 0), ("top", 0, 2), ("bottom, right", 3, -2)],
)
def test_named_cases_place_the_second_opening(flat_on: str, x: float, z: float) -> None:
    """20x16 to 14x12: (20-14)/2 = 3 aside and (16-12)/2 = 2 up or down bring the sides in line."""
    row = {"width": "20", "height": "16", "width_2": "14", "height_2": "12", "length": "20"}
    points = face_points(*made("transition", **row, flat_on=flat_on).pieces)
    far = points[np.abs(points[:, 1] - 20) < 1e-9]
    middle = (far.max(axis=0) + far.min(axis=0)) / 2
    assert middle[[0, 2]] == pytest.approx([x, z])


def test_a_warped_panel_is_broken_along_the_longer_bore() -> None:
    """Leaning the small opening warps left and right only: their edges are not parallel then."""
    row = {"width": "18", "height": "14", "width_2": "12", "height_2": "12", "length": "18"}
    fitting = made("transition", **row, lean="20")
    warped = [note for note in fitting.notes if "warped" in note]
    assert [note.split()[1] for note in warped] == ["right", "left"]
    right = next(piece for piece in fitting.pieces if piece.name == "right")
    (crease,) = (h for h in right.hinges if {h.parent, h.child} <= {"right 2", "right 3"})
    assert crease.angle > 0, "bent as the corners are, so that the full bore is kept"
    length = math.dist(*(tuple(map(float, p)) for p in (crease.start, crease.end)))
    assert "22 1/2 in" in warped[0]
    assert length == pytest.approx(22.5, abs=1 / 32)


def test_one_sloping_side_gives_a_wrap_and_a_side_else_ells() -> None:
    row = {"width": "20", "height": "8", "width_2": "14", "length": "24", **BARE}
    assert [p.name for p in made("transition", **row, flat_on="right").pieces] == ["U", "side"]
    assert [p.name for p in made("transition", **row).pieces] == ["L", "L"]
    row |= {"collar_1": "1"}
    assert len(made("transition", **row).pieces) == 4
    card = card_of("transition", **row | {"collar_1": "0"}, flat_on="right")
    small = card.make(shop(sheets=((26, 26),)))
    assert len(small.pieces) == 4
    assert "Made as four sides" in small.notes[0]


CARD = {"width": "20", "height": "16", "width_2": "14", "height_2": "12"}


def refused(**row: str) -> CannotMake:
    with pytest.raises(CannotMake) as caught:
        made("transition", **CARD | row)
    return caught.value


def test_a_side_may_lean_45_degrees_and_no_more() -> None:
    """Minnesota Rules 1346.0603, amending IMC 603: 45 degrees. Without collars 3 in 3 is 45."""
    bare = {"collar_1": "0", "collar_2": "0"}
    assert made("transition", **CARD, length="3", **bare).pieces
    fault = refused(length="2 7/8", **bare)
    assert (fault.column, fault.value) == ("length", "2 7/8 in")
    assert "46.2 degrees, more than 45" in fault.problem
    assert fault.allowed == "Make it 3 in or longer."
    fault = refused(length="4 3/4")
    assert fault.allowed == "Make it 5 in or longer."
    assert made("transition", **CARD, length="5").pieces


def test_collars_must_leave_room_and_be_wide_enough() -> None:
    fault = refused(length="8", collar_1="5", collar_2="3")
    assert fault.column == "collar_1"
    assert "leaves no room" in fault.problem
    assert made("transition", **CARD, length="12", collar_1="3/8").pieces
    fault = refused(length="12", collar_2="5/16")
    assert (fault.column, fault.allowed) == ("collar_2", "Give 0, or 3/8 in or more.")


def test_contradictions_are_refused() -> None:
    assert refused(length="12", flat_on="left", offset_side="2").column == "offset_side"
    fault = refused(length="12", flat_on="top, bottom")
    assert (fault.column, fault.allowed) == ("flat_on", "Choose bottom or top.")
    fault = refused(length="12", arrangement="two L")
    assert fault.column == "arrangement"
    assert "leave the collars out" in fault.allowed
    fault = refused(length="12", end_2="bearing flange", width_2="4")
    assert fault.column == "end_2"
    assert "leaves no opening" in fault.problem
    for row in ({"flat_on": "middle"}, {"lean": "46"}, {"collar_1": "-1"}, {"width": "0"}):
        with pytest.raises(ValidationError) as caught:
            made("transition", **CARD | {"length": "12"} | row)
        assert caught.value.errors()[0]["loc"][0] == next(iter(row))


@pytest.mark.parametrize(
    ("more", "changes"),
    [
        ({}, False),
        ({"width_2": 14, "height_2": "10", "flat_on": "left"}, False),
        ({"width_2": 12}, True),
        ({"height_2": 12}, True),
        ({"offset_up": -2}, True),
        ({"lean": 10}, True),
        ({"twist": 10}, True),
    ],
)
def test_a_transition_that_changes_nothing_is_doubted(
    more: dict[str, object], changes: bool
) -> None:
    card = card_of("transition", width=14, height=10, length=12, **more)
    assert bool(card.doubts()) is not changes
