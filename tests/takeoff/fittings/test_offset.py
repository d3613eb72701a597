"""Offsets: folded, measured, and held against worked and closed-form sizes."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake, Made
from takeoff.pattern.facets import Role
from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.folded import TOLERANCE, assert_folds_and_meets, extent_at, face_points
from tests.takeoff.fittings.making import card as card_of
from tests.takeoff.fittings.making import made, shop

BIG = shop("[brake]\nlength = 400\n", sheets=((400, 800),))
RAW = {"end_1": "raw", "end_2": "raw"}
BARE = {**RAW, "neck_1": "0", "neck_2": "0"}
ENDS = st.sampled_from(["raw", "slip and drive", "flange out", "flange in", "hem", "drive"])
NECKS = st.sampled_from([Fraction(0), Fraction(1), Fraction(3)])


def eighths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    return st.integers(low * 8, high * 8).map(lambda n: Fraction(n, 8))


@st.composite
def offsets(draw: st.DrawFn, shape: str, axes: int) -> dict[str, object]:
    """Valid cards: long enough for the shift and, with a radius, for the throats."""
    size = draw(eighths(5, 24)), draw(eighths(5, 24))
    shift = [draw(st.sampled_from([-1, 1])) * draw(eighths(1, 12)) for _ in range(2)]
    if axes == 1:
        shift[draw(st.sampled_from([0, 1]))] = Fraction(0)
    moved = sum(map(abs, shift))
    # 4 R s = L2 + s2 with R of half the duct and 2 in more; two axes lean 45 degrees: s / 0.414
    need = Fraction(
        math.ceil(math.sqrt(4 * (float(max(size)) / 2 + 2) * float(moved)) + 2.5 * float(moved))
    )
    necks = draw(NECKS), draw(NECKS)
    return {
        "width": size[0],
        "height": size[1],
        "offset_side": shift[0],
        "offset_up": shift[1],
        "shape": shape,
        "length": need + sum(necks) + draw(eighths(1, 20)),
        "neck_1": necks[0],
        "neck_2": necks[1],
        "end_1": draw(ENDS),
        "end_2": draw(ENDS),
    }


def number(row: dict[str, object], key: str) -> float:
    return float(row[key])  # type: ignore[arg-type]


def run_of(row: dict[str, object]) -> float:
    return number(row, "length") - number(row, "neck_1") - number(row, "neck_2")


def assert_openings(fitting: Made, row: dict[str, object]) -> None:
    """Both openings have the size of the duct, and lie the offset apart."""
    points = face_points(*fitting.pieces)
    size = [number(row, "width"), number(row, "height")]
    middles = []
    for place in (0.0, number(row, "length")):
        assert extent_at(points, 1, place) == pytest.approx(size)
        here = points[np.abs(points[:, 1] - place) < 1e-6]
        middles.append((here.max(axis=0) + here.min(axis=0)) / 2)
    shift = (middles[1] - middles[0])[[0, 2]]
    assert shift == pytest.approx([number(row, "offset_side"), number(row, "offset_up")])


@settings(max_examples=20, deadline=None)
@given(st.sampled_from([1, 2]).flatmap(lambda axes: offsets("angled", axes)))
def test_any_angled_offset_folds_and_has_the_area_of_its_panels(row: dict[str, object]) -> None:
    fitting = card_of("offset", **row).make(BIG)
    assert_folds_and_meets(fitting)
    assert_openings(fitting, row)
    # parallelograms: top and bottom are as wide as the duct and as high as their slant
    wide, high, run = number(row, "width"), number(row, "height"), run_of(row)
    area = 2 * (wide + high) * (number(row, "length") - run)
    area += 2 * wide * math.hypot(run, number(row, "offset_up"))
    area += 2 * high * math.hypot(run, number(row, "offset_side"))
    assert face_area(*fitting.pieces) == pytest.approx(area)


@settings(max_examples=10, deadline=None)
@given(offsets("radius", 1))
def test_any_radius_offset_folds_and_has_its_closed_form_areas(row: dict[str, object]) -> None:
    """Two arcs that meet: R = (L2 + s2) / 4 s on the centre line, each through 2 atan(s / L)."""
    fitting = card_of("offset", **row).make(BIG)
    assert_folds_and_meets(fitting)
    assert_openings(fitting, row)
    run, necks = run_of(row), number(row, "neck_1") + number(row, "neck_2")
    shift = abs(number(row, "offset_side") + number(row, "offset_up"))
    radius, turn = (run**2 + shift**2) / (4 * shift), 2 * math.atan2(shift, run)
    across, deep = number(row, "width"), number(row, "height")
    if not row["offset_side"]:
        across, deep = deep, across
    # each wrap is a heel on one arc and a throat on the other: (R + W/2) a + (R - W/2) a
    girth = 2 * radius * turn + necks
    cheeks = [piece for piece in fitting.pieces if piece.name == "cheek"]
    for wrap in fitting.pieces[2:]:
        assert face_area(wrap) == pytest.approx(girth * deep)
    # a band of constant width is as large as its centre line is long; chords cut a little off
    for cheek in cheeks:
        assert face_area(cheek) == pytest.approx(girth * across, abs=2 * girth * TOLERANCE)


@settings(max_examples=6, deadline=None)
@given(offsets("radius", 1))
def test_wraps_lie_within_a_64th_of_their_arcs(row: dict[str, object]) -> None:
    """Struck from the planes where the necks end: the first centre lies R to the shift's side."""
    fitting = card_of("offset", **row).make(BIG)
    run, axis = run_of(row), 0 if row["offset_side"] else 2
    shift = number(row, "offset_side") + number(row, "offset_up")
    radius, turn = (run**2 + shift**2) / (4 * abs(shift)), 2 * math.atan2(abs(shift), run)
    begin, hand = number(row, "neck_1"), math.copysign(1, shift)
    size = number(row, "width" if axis == 0 else "height")
    centres = (hand * radius, begin), (shift - hand * radius, begin + run)
    for wrap in fitting.pieces[2:]:
        outward = hand if wrap.name in ("right", "top") else -hand
        radii = radius - outward * size / 2, radius + outward * size / 2
        change = begin + radii[0] * math.sin(turn)

        def off(u: float, v: float) -> float:
            """How far a point lies off the arc that it belongs to."""
            part = 0 if v <= change else 1  # noqa: B023
            return abs(math.dist((u, v), centres[part]) - radii[part])  # noqa: B023

        for name, corners in fold_in_place(wrap).items():
            points = corners[:, [axis, 1]]
            on_curve = (points[:, 1] > begin - 1e-9) & (points[:, 1] < begin + run + 1e-9)
            if wrap.facet(name).role is Role.FACE and on_curve.all():
                assert max(off(u, v) for u, v in points) < 1e-6
                assert off(*points.mean(axis=0)) <= TOLERANCE


@settings(max_examples=6, deadline=None)
@given(offsets("radius", 2))
def test_any_radius_offset_in_two_axes_keeps_its_upright_section(row: dict[str, object]) -> None:
    """The section is moved along the curve: top and bottom are cylinders over the curve seen from
    the side, so their area is their width times its length, summed here on fine chords.
    """
    fitting = card_of("offset", **row).make(BIG)
    assert_folds_and_meets(fitting)
    assert_openings(fitting, row)
    run, necks = run_of(row), number(row, "neck_1") + number(row, "neck_2")
    shift = math.hypot(number(row, "offset_side"), number(row, "offset_up"))
    radius, turn = (run**2 + shift**2) / (4 * shift), 2 * math.atan2(shift, run)
    angles = np.linspace(0, turn, 20001)
    ahead, aside = radius * np.sin(angles), radius * (1 - np.cos(angles))
    for piece in fitting.pieces:
        flat = piece.name.split()[0] in ("bottom", "top")
        share = number(row, "offset_up" if flat else "offset_side") / shift
        curve = 2 * np.hypot(np.diff(ahead), share * np.diff(aside)).sum() + necks
        wide = number(row, "width" if flat else "height")
        assert face_area(piece) == pytest.approx(wide * curve, abs=wide * TOLERANCE)


def test_angled_offset_slant_of_an_offset() -> None:
    """Worked: 6 in 18: angle 18.435 degrees, slant sqrt(18^2 + 6^2) = 18.9737."""
    row = {"width": "12", "height": "8", "length": "18", "offset_up": "6"}
    fitting = made("offset", **row, **BARE, arrangement="four sides")
    top = next(piece for piece in fitting.pieces if "top" in piece.name)
    assert face_area(top) / 12 == pytest.approx(18.9737, abs=1e-4)
    necked = made("offset", **row | {"length": "20"}, **RAW)
    top = next(piece for piece in necked.pieces if "top" in piece.name)
    angles = [h.angle for h in top.hinges if top.facet(h.child).role is Role.FACE]
    assert [abs(angle) for angle in angles] == pytest.approx([18.435, 18.435], abs=1e-3)


def test_a_radius_offset_of_equal_arcs_worked_by_hand() -> None:
    """6 over 22 between necks of 1: R = (22^2 + 6^2) / 24 = 21.667, throats 14.667 for 14 wide;
    turn 2 atan(6/22) = 30.51 degrees; wraps 2 x 21.667 x 0.53250 + 2 = 25.075 long.
    """
    row = {"width": "14", "height": "8", "length": "24", "offset_side": "6", "shape": "radius"}
    fitting = made("offset", **row, **RAW)
    assert fitting.notes[0] == "Throats are struck to 14 11/16 in radius and heels to 28 11/16 in."
    wrap = outline(fitting.pieces[2])
    assert float(wrap.width) == pytest.approx(25.075, abs=0.001)
    assert float(wrap.length) == pytest.approx(8 + 2)


def test_a_given_throat_leaves_a_straight_between_the_arcs() -> None:
    """Throat 4 on 8 high: R = 8. With a = 14.04 degrees and m = 21.0 between the arcs:
    2 x 8 sin a + m cos a = 28 - 4 and 2 x 8 (1 - cos a) + m sin a = 6 fix a and m.
    """
    row = {"width": "14", "height": "8", "length": "26", "offset_up": "6", "shape": "radius"}
    fitting = made("offset", **row, throat="4", **RAW)
    assert_folds_and_meets(fitting)
    low, high = 0.0, math.pi / 2
    for _ in range(60):  # a by halving: the straight that closes the run must close the rise
        turn = (low + high) / 2
        straight = (24 - 16 * math.sin(turn)) / math.cos(turn)
        rise = 16 * (1 - math.cos(turn)) + straight * math.sin(turn)
        low, high = (turn, high) if rise < 6 else (low, turn)
    girth = 2 + straight + 2 * 8 * turn
    for wrap in fitting.pieces[2:]:
        assert float(outline(wrap).width) == pytest.approx(girth, abs=1e-6)


def test_a_small_shift_is_nearly_a_straight_duct() -> None:
    row = {"width": "12", "height": "8", "length": "30"}
    straight = face_area(*made("straight duct", **row, **RAW).pieces)
    for shape in ("angled", "radius"):
        fitting = made("offset", **row, **RAW, offset_side="1/64", shape=shape)
        assert face_area(*fitting.pieces) == pytest.approx(straight, rel=1e-4)


CARD = {"width": "12", "height": "8"}


def refused(**row: str) -> CannotMake:
    with pytest.raises(CannotMake) as caught:
        made("offset", **CARD | row)
    return caught.value


def test_an_angled_offset_is_no_steeper_than_45_degrees() -> None:
    assert made("offset", **CARD, length="8", offset_up="6").pieces
    fault = refused(length="7 15/16", offset_up="6")
    assert (fault.column, fault.allowed) == ("length", "Make it 8 in or longer.")


def test_a_radius_offset_is_as_long_as_its_throats_need() -> None:
    """The edge of the cheek, 3/16, needs R > 6-3/16: L2 = 4 x 6.1875 x 8 - 64 = 134, L = 11.576."""
    row = {"offset_side": "8", "shape": "radius", "neck_1": "0", "neck_2": "0"}
    assert made("offset", **CARD, **row, length="11 5/8").pieces
    fault = refused(**row, length="11 9/16")
    assert (fault.column, fault.allowed) == ("length", "Make it 11 5/8 in or longer.")
    # throat 4: R = 10, L2 = 4 x 10 x 8 - 64 = 256
    assert made("offset", **CARD, **row, length="16", throat="4").pieces
    fault = refused(**row, length="15", throat="4")
    assert "too short for the arcs" in fault.problem


def test_two_axes_lean_no_more_than_45_degrees_at_the_middle() -> None:
    """2 atan(5 / L) = 45 degrees at L = 5 / tan 22.5 = 12.071."""
    row = {"offset_side": "3", "offset_up": "4", "shape": "radius", "neck_1": "0", "neck_2": "0"}
    assert made("offset", **CARD, **row, length="12 1/8").pieces
    fault = refused(**row, length="12")
    assert (fault.column, fault.allowed) == ("length", "Make it 12 1/8 in or longer.")
    assert any("by hand" in note for note in made("offset", **CARD, **row, length="20").notes)


def test_what_else_is_refused() -> None:
    assert refused(length="20").column == "offset_side"
    radius = {"length": "20", "offset_side": "4", "shape": "radius"}
    assert refused(**radius, arrangement="two L").column == "arrangement"
    assert refused(**radius, neck_1="12", neck_2="8").column == "neck_1"
    assert refused(**radius, seam="standing").column == "seam"
    fault = refused(**radius, throat="20")
    assert fault.column in ("throat", "length")
    for row in ({"offset_up": "over"}, {"neck_2": "-1"}, {"length": "0"}):
        with pytest.raises(ValidationError) as caught:
            made("offset", **CARD | {"length": "20", "offset_side": "2"} | row)
        assert caught.value.errors()[0]["loc"][0] == next(iter(row))
