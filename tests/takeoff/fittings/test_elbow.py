"""Elbows: folded, measured, and held against published and closed-form sizes."""

import math
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from shapely.geometry import LineString

from takeoff.fittings import CannotMake, Made
from takeoff.pattern.facets import Forming, Piece, Role
from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import outline
from takeoff.pattern.settle import cut_key
from tests.takeoff.covered import face_area, polygon
from tests.takeoff.fittings.folded import TOLERANCE, assert_folds_and_meets, face_points
from tests.takeoff.fittings.making import card as card_of
from tests.takeoff.fittings.making import made, shop, sizes

BIG = shop("[brake]\nlength = 400\n", sheets=((400, 800),))
PUBLISHED = '[seams.pittsburgh]\npocket = "15/16"\n'
RAW = {"end_1": "raw", "end_2": "raw"}
CHEEKS = ("cheek", "flat cheek", "drop cheek")
SHAPES = st.sampled_from(["radius", "square"])


def eighths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    return st.integers(low * 8, high * 8).map(lambda n: Fraction(n, 8))


@st.composite
def elbows(draw: st.DrawFn, equal: bool) -> dict[str, object]:
    """Valid cards; openings that differ turn far enough for the heel not to run back."""
    ends = st.sampled_from(["raw", "slip and drive", "hem", "flange in", "drive"])
    row: dict[str, object] = {
        "width": draw(eighths(5, 30)),
        "height": draw(eighths(5, 30)),
        "angle": draw(st.integers(10, 150) if equal else st.integers(60, 120)),
        "turns": draw(st.sampled_from(["flat", "riser"])),
        "throat": draw(eighths(2, 15)),
        "throat_shape": draw(SHAPES),
        "heel_shape": draw(SHAPES),
        "neck_1": draw(st.sampled_from([Fraction(0), Fraction(1), Fraction(3)])),
        "neck_2": draw(st.sampled_from([Fraction(0), Fraction(1), Fraction(3)])),
        "end_1": draw(ends),
        "end_2": draw(ends),
    }
    if not equal:
        more = {key: row[key] + draw(eighths(-2, 2)) for key in ("width", "height")}  # type: ignore[operator]
        row |= {
            "width_2": more["width"],
            "height_2": more["height"],
            "throat": draw(eighths(8, 15)),
        }
        row["heel_shape"] = row["throat_shape"]
        row["drop"] = draw(st.sampled_from(["near", "far", "both"]))
    return row


def pieces(fitting: Made, *names: str) -> tuple[Piece, ...]:
    return tuple(piece for piece in fitting.pieces if piece.name in names)


def number(row: dict[str, object], key: str) -> float:
    return float(row[key])  # type: ignore[arg-type]


def heel_girth(row: dict[str, object]) -> float:
    """Along the heel of an elbow of equal openings (in): necks, curve or two straight lines."""
    turn, throat = math.radians(number(row, "angle")), number(row, "throat")
    across = number(row, "width" if row["turns"] == "flat" else "height")
    necks = number(row, "neck_1") + number(row, "neck_2")
    if row["throat_shape"] == "square":
        necks, throat = necks + 2 * throat, 0.0
    radius = throat + across
    curve = 2 * radius * math.tan(turn / 2) if row["heel_shape"] == "square" else radius * turn
    return necks + curve


def throat_girth(row: dict[str, object]) -> float:
    curved = row["throat_shape"] == "radius"
    turn = math.radians(number(row, "angle")) if curved else 2.0
    return number(row, "neck_1") + number(row, "neck_2") + number(row, "throat") * turn


def cheek_area(row: dict[str, object]) -> float:
    """Between the heel and the throat: a sector or kite from the throat's centre, and the necks."""
    turn, throat = math.radians(number(row, "angle")), number(row, "throat")
    across = number(row, "width" if row["turns"] == "flat" else "height")
    legs = number(row, "neck_1") + number(row, "neck_2")
    if row["throat_shape"] == "square":
        legs, throat = legs + 2 * throat, 0.0
    radius = throat + across
    square = row["heel_shape"] == "square"
    outer = radius**2 * (math.tan(turn / 2) if square else turn / 2)
    return across * legs + outer - throat**2 * turn / 2


@settings(max_examples=20, deadline=None)
@given(elbows(equal=True))
def test_any_elbow_of_equal_openings_folds_and_has_its_closed_form_areas(
    row: dict[str, object],
) -> None:
    fitting = card_of("elbow", **row).make(BIG)
    assert_folds_and_meets(fitting)
    deep = number(row, "height" if row["turns"] == "flat" else "width")
    assert face_area(*pieces(fitting, "heel")) == pytest.approx(deep * heel_girth(row))
    assert face_area(*pieces(fitting, "throat")) == pytest.approx(deep * throat_girth(row))
    # a cheek is cut along chords: each loses 2/3 of its length times its rise, 1/64 at the most
    slack = 2 / 3 * TOLERANCE * (heel_girth(row) + throat_girth(row))
    for cheek in pieces(fitting, "cheek"):
        assert face_area(cheek) == pytest.approx(cheek_area(row), abs=slack)
    assert_opening(fitting, row, "width", "height")


def assert_opening(fitting: Made, row: dict[str, object], width: str, height: str) -> None:
    """The first opening, measured on the folded pieces: x is the width and z the height."""
    points = face_points(*fitting.pieces)
    corners = points[np.abs(points[:, 1]) < 1e-6]
    assert np.ptp(corners[:, 0]) >= number(row, width) - 1e-6
    for x in (0, number(row, width)):
        for z in (0, number(row, height)):
            assert np.linalg.norm(points - [x, 0, z], axis=1).min() < TOLERANCE


@settings(max_examples=10, deadline=None)
@given(elbows(equal=False))
def test_any_elbow_of_different_openings_folds_onto_both(row: dict[str, object]) -> None:
    fitting = card_of("elbow", **row).make(BIG)
    assert_folds_and_meets(fitting)
    assert_opening(fitting, row, "width", "height")
    points = face_points(*fitting.pieces)
    across, deep = ("width_2", "height_2") if row["turns"] == "flat" else ("height_2", "width_2")
    for corner in opening_2(row, number(row, across), number(row, deep)):
        assert np.linalg.norm(points - corner, axis=1).min() < TOLERANCE


def opening_2(row: dict[str, object], across: float, deep: float) -> list[list[float]]:
    """Corners of opening 2, walked along the throat: neck, round the turn, neck, across."""
    turn, throat = math.radians(number(row, "angle")), number(row, "throat")
    ahead = np.array([math.sin(turn), math.cos(turn)])
    inner = np.array([number(row, "width" if row["turns"] == "flat" else "height"), 0.0])
    if row["throat_shape"] == "square":
        inner = inner + np.array([0, throat + number(row, "neck_1")]) + ahead * throat
    else:
        rise = number(row, "neck_1") + throat * math.sin(turn)
        inner = inner + np.array([throat * (1 - math.cos(turn)), rise])
    inner = inner + ahead * number(row, "neck_2")
    outer = inner + across * np.array([-math.cos(turn), math.sin(turn)])
    flat = row["turns"] == "flat"
    sunk = number(row, "height" if flat else "width") - deep
    low = {"near": sunk, "far": 0.0, "both": sunk / 2}[str(row["drop"])]
    ends = (low, low + deep)
    return [[u, v, w] if flat else [w, v, u] for u, v in (inner, outer) for w in ends]


@settings(max_examples=6, deadline=None)
@given(eighths(4, 36), eighths(1, 30), st.integers(5, 180))
def test_heel_and_throat_lie_within_a_64th_of_their_cylinders(
    width: Fraction, throat: Fraction, angle: int
) -> None:
    row = {"width": width, "height": "8", "throat": throat, "angle": angle, **RAW}
    fitting = card_of("elbow", **row).make(BIG)
    centre = np.array([float(width + throat), 0.0])
    for name, radius in (("heel", float(width + throat)), ("throat", float(throat))):
        (wrap,) = pieces(fitting, name)
        for facet, corners in fold_in_place(wrap).items():
            if wrap.facet(facet).role is Role.FACE:
                flat = corners[:, :2] - centre
                middle = np.linalg.norm((flat[0] + flat[2]) / 2)
                assert np.linalg.norm(flat, axis=1) == pytest.approx([radius] * 4)
                assert radius - TOLERANCE <= middle <= radius


def test_riser_elbow_riser_elbow() -> None:
    """18x8 riser, 6 radius. Throat pi/2 x 6 by 18 + 2 x 15/16: 9-7/16 x 19-7/8; heel
    pi/2 x 14 by the same: 22 x 19-7/8; cheek 8 + 2 x 3/16 = 8-3/8 wide. achrnews.com/
    articles/87804 (2002), printed to sixteenths.
    """
    row = {"width": "18", "height": "8", "turns": "riser", "throat": "6", **RAW}
    fitting = made("elbow", PUBLISHED, **row)
    for name, length in (("throat", 9 + 7 / 16), ("heel", 22)):
        shape = outline(pieces(fitting, name)[0])
        assert float(shape.width) == pytest.approx(length, abs=1 / 16)
        assert float(shape.length) == pytest.approx(19 + 7 / 8)
    cheek = pieces(fitting, "cheek")[0]
    widths = widths_across(cheek)
    assert widths == pytest.approx([8 + 3 / 8] * len(widths), abs=1 / 32)


def widths_across(cheek: Piece) -> list[float]:
    """Radial widths of a cheek with its strips, on rays from the centre of its arcs."""
    rim = polygon(outline(cheek).points)
    face = next(facet for facet in cheek.facets if facet.role is Role.FACE)
    corners = np.array([[float(x), float(y)] for x, y in face.corners])
    steps = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1)
    # the two openings are the longest edges; their lines meet in the centre
    first, second = sorted(np.argsort(steps)[-2:])
    p, q = corners[first], corners[(first + 1) % len(corners)] - corners[first]
    r, s = corners[second], corners[(second + 1) % len(corners)] - corners[second]
    share = np.linalg.solve(np.column_stack([q, -s]), r - p)[0]
    centre = p + share * q
    ways = [corners[i] - centre for i in (first, second)]
    rays = [ways[0] * (1 - t) + ways[1] * t for t in (0.25, 0.4, 0.5, 0.6, 0.75)]
    return [
        LineString([centre, centre + ray / np.linalg.norm(ray) * 100]).intersection(rim).length
        for ray in rays
    ]


def test_square_throat_and_heel_without_seams() -> None:
    """Opening 4, throat 4, depth 6: cheek 8 x 8, throat 8 x 6 and heel 16 x 6, both bent at mid.
    Duct Fittings, open textbook, pressbooks.bccampus.ca/ductfittings (square throat, square heel).
    """
    none = '[seams.none]\npocket = 0\nsingle = 0\nsingle_curved = 0\npocket_name = "edge"\n'
    none += 'single_name = "edge"\npocket_angle = 0\nsingle_angle = 0\nbend_notch = 0\n'
    row = {"width": "4", "height": "6", "throat": "4", "throat_shape": "square", **RAW}
    fitting = made("elbow", none, **row, seam="none", vanes="no")
    blanks = {name: sorted(map(float, size)) for name, size in sizes(fitting.pieces).items()}
    assert blanks == {"cheek": [8, 8], "throat": [6, 8], "heel": [6, 16]}
    for name, middle in (("throat", 4), ("heel", 8)):
        (bend,) = pieces(fitting, name)[0].hinges
        assert abs(bend.angle) == pytest.approx(90)
        assert float(bend.start[0]) == pytest.approx(middle)


def test_true_length_of_a_drop_cheek() -> None:
    """True length of a step on a drop cheek: its vertical leg is the change in drop between the
    points (pressbooks.bccampus.ca/level2layout, drop elbow). Here it drops 3 over 90 degrees.
    """
    row = {"width": "12", "height": "10", "height_2": "7", "throat": "6", **RAW}
    fitting = made("elbow", **row)
    cheek = pieces(fitting, "drop cheek")[0]
    steps: dict[float, int] = {}
    for facet in cheek.facets:
        if facet.role is Role.FACE:
            for a, b in pairwise([*facet.corners, facet.corners[0]]):
                length = round(math.dist(tuple(map(float, a)), tuple(map(float, b))), 6)
                steps[length] = steps.get(length, 0) + 1
    count = sum(f.role is Role.FACE for f in cheek.facets) // 2
    for radius in (6, 18):
        chord = 2 * radius * math.sin(math.pi / 4 / count)
        true = round(math.hypot(chord, 3 / count), 6)
        assert steps[true] == count
    assert [p.name for p in fitting.pieces][:2] == ["flat cheek", "drop cheek"]
    assert "drops 3 in" in fitting.notes[0]


@settings(max_examples=4, deadline=None)
@given(eighths(6, 20), eighths(3, 12), eighths(-4, 4), st.integers(30, 150))
def test_a_drop_cheek_lies_within_a_64th_of_the_twisted_surface(
    width: Fraction, throat: Fraction, drop: Fraction, angle: int
) -> None:
    """The surface is swept by a level line from throat to heel that sinks evenly as it turns."""
    row = {"width": width, "height": "12", "height_2": 12 - drop, "throat": throat, **RAW}
    fitting = card_of("elbow", angle=angle, **row).make(BIG)
    for cheek in pieces(fitting, "drop cheek"):
        for facet, corners in fold_in_place(cheek).items():
            if cheek.facet(facet).role is not Role.FACE:
                continue
            for weights in ((1, 1, 1), (1, 1, 0), (0, 1, 1), (1, 0, 1)):
                x, y, z = np.average(corners[:3], axis=0, weights=weights)
                turn = math.atan2(y, float(width + throat) - x)
                sunk = 12 - float(drop) * turn / math.radians(angle)
                assert abs(z - sunk) <= TOLERANCE


def test_the_cheeks_of_a_symmetric_elbow_are_one_blank_turned_over() -> None:
    alike = pieces(made("elbow", width="20", height="10"), "cheek")
    assert cut_key(alike[0]) == cut_key(alike[1])
    other = made("elbow", width="20", height="10", neck_1="2")
    assert len({cut_key(cheek) for cheek in pieces(other, "cheek")}) == 2
    assert any("opposite hand" in note for note in other.notes)


def test_a_curved_edge_is_turned_by_hand_and_a_straight_one_in_the_brake() -> None:
    for shape, forming in (("radius", Forming.HAND), ("square", Forming.BRAKE)):
        cheek = pieces(made("elbow", width="12", height="8", throat_shape=shape), "cheek")[0]
        strips = {h.forming for h in cheek.hinges if cheek.facet(h.child).role is Role.SEAM}
        assert strips == {forming}
    dropped = pieces(made("elbow", width="12", height="8", height_2="7"), "drop cheek")[0]
    strips = {h.forming for h in dropped.hinges if dropped.facet(h.child).role is Role.SEAM}
    assert strips == {Forming.HAND}


def test_a_lap_is_turned_on_the_cheeks_of_a_radius_elbow() -> None:
    fitting = made("elbow", width="12", height="8", seam="lap")
    assert_folds_and_meets(fitting)
    assert all(fitting.pieces[seam.receiving.piece].name == "cheek" for seam in fitting.seams)


def test_square_corners_on_a_small_turn_are_nearly_a_straight_duct() -> None:
    """As the angle goes to nothing heel and throat become as long as the run of the two legs."""
    row = {"width": "12", "height": "8", "throat": "6", "throat_shape": "square", "angle": "0.01"}
    fitting = made("elbow", **row, **RAW, vanes="no")
    straight = made("straight duct", width="12", height="8", length="12", **RAW)
    assert face_area(*fitting.pieces) == pytest.approx(face_area(*straight.pieces), rel=1e-3)


def test_vanes_of_a_square_elbow() -> None:
    """Runner from corner to corner: 20 x sqrt 2 = 28.284; in steps of 1-1/2 or less: 19 steps, 18
    vanes. A 2 in vane through 90 degrees is pi wide. Count: common practice, no source.
    """
    fitting = made("elbow", width="20", height="10", throat_shape="square")
    vane, runner = fitting.hardware
    assert (vane.what, vane.qty) == ("turning vane", 18)
    assert "10 in long, 3 1/8 in wide" in vane.note
    assert (runner.qty, runner.note) == (2, "28 5/16 in long")
    assert made("elbow", width="20", height="10").hardware == ()
    assert made("elbow", width="20", height="10", throat_shape="square", vanes="no").hardware == ()


def refused(**row: str) -> CannotMake:
    with pytest.raises(CannotMake) as caught:
        made("elbow", **{"width": "12", "height": "8"} | row)
    return caught.value


def test_the_throat_must_take_the_edge_of_the_cheek() -> None:
    """The published single edge on a curve is 3/16: an arc of that radius has no room for it."""
    assert made("elbow", width="12", height="8", throat="1/4").pieces
    fault = refused(throat="3/16")
    assert fault.column == "throat"
    assert "a radius of more than 3/16 in, or a square throat" in fault.allowed
    fault = refused(throat="1", seam="lap")
    assert "an edge of 1 in" in fault.problem


def test_square_throats_need_legs() -> None:
    square = {"throat_shape": "square"}
    assert made("elbow", width="12", height="8", throat="3/8", **square).pieces
    fault = refused(throat="5/16", **square)
    assert (fault.column, fault.allowed[:16]) == ("throat", "Legs of 3/8 in o")
    assert refused(angle="151", **square).column == "angle"
    assert made("elbow", width="12", height="8", angle="150", **square).pieces


def test_flanges_that_meet_in_the_throat_are_refused() -> None:
    out = {"throat_shape": "square", "end_1": "flange out", "end_2": "flange out"}
    assert made("elbow", width="12", height="8", throat="1 1/8", **out).pieces
    fault = refused(throat="7/8", **out)
    assert fault.column == "end_1"
    assert "fouls" in fault.problem


def test_a_heel_radius_has_a_largest() -> None:
    """90 degrees, throat 6 and 12 wide: the straight lines of the heel are 18 long each."""
    assert made("elbow", width="12", height="8", heel_radius="18").pieces
    assert made("elbow", width="12", height="8", heel_radius="10").pieces
    fault = refused(heel_radius="18 1/16")
    assert (fault.column, fault.allowed) == ("heel_radius", "Up to 18 in.")
    assert refused(angle="180", heel_radius="10").column == "heel_radius"


def test_what_else_is_refused() -> None:
    assert refused(angle="10", width_2="6").column == "throat"
    assert refused(height_2="6", heel_shape="square").column == "height_2"
    assert refused(width_2="9", heel_shape="square", turns="riser").column == "width_2"
    fault = refused(seam="standing")
    assert (fault.column, fault.value) == ("seam", "standing")
    assert refused(seam="glue").column == "seam"
    assert refused(width="130").column == "arrangement"
    for row in ({"throat": "-1"}, {"angle": "0"}, {"angle": "181"}, {"neck_1": "-2"}):
        with pytest.raises(ValidationError) as caught:
            made("elbow", **{"width": "12", "height": "8"} | row)
        assert caught.value.errors()[0]["loc"][0] == next(iter(row))
