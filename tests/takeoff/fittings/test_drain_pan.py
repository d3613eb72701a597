"""Drain pans: watertight by their pattern, and of the area and volume of closed forms."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.pattern.bending import bend_order
from takeoff.pattern.facets import Piece
from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import net_area, outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.folded import assert_folds_and_meets, assert_limit, face_points
from tests.takeoff.fittings.making import card, made, shop

ALLOWANCE = '[bend]\nrule = "allowance"'
sizes = st.integers(16, 600).map(lambda n: Fraction(n, 16))


@st.composite
def pans(draw: st.DrawFn) -> dict[str, object]:
    width, depth = draw(sizes), draw(sizes)
    most = int(max(width, depth) / 2 * 16)
    height = Fraction(draw(st.integers(min(8, most), min(most, 96))), 16)
    return {"width": width, "depth": depth, "height": height}


def closing_gap(piece: Piece) -> float:
    """How far what the closing bends join lies apart when folded (in)."""
    folded = fold_in_place(piece)
    apart = 0.0
    for hinge in piece.closing:
        wall, ear = folded[hinge.parent], folded[hinge.child]
        # the ear's own edge lies on the wall's vertical edge: the same x and y
        edge = wall[np.lexsort((wall[:, 2], np.abs(wall[:, 0] - ear[:, 0].mean())))[:2]]
        mine = ear[np.argsort(np.abs(ear[:, 0] - edge[0, 0]))[:2]]
        apart = max(apart, float(np.abs(mine[:, :2] - edge[:, :2]).max()))
    return apart


@settings(max_examples=30, deadline=None)
@given(pans(), st.sampled_from(["", ALLOWANCE]), st.sampled_from(["hem", "raw"]))
def test_any_pan_folds_to_its_inside_without_a_cut(
    cells: dict[str, object], toml: str, rim: str
) -> None:
    result = made("drain pan", toml, rim=rim, **cells)
    assert_folds_and_meets(result)
    (pan,) = result.pieces
    # no cut: neither slit nor hole, and the whole rectangle of floor, walls and corners is there
    assert outline(pan).slits == ()
    assert pan.holes == ()
    reach = np.ptp(face_points(pan), axis=0)
    asked = sorted([float(cells["width"]), float(cells["depth"])])  # type: ignore[arg-type]
    assert sorted(reach[:2]) == pytest.approx(asked, abs=1e-9)
    assert reach[2] == pytest.approx(float(cells["height"]))  # type: ignore[arg-type]
    assert closing_gap(pan) < 1e-9


@settings(max_examples=30, deadline=None)
@given(pans())
def test_the_blank_is_floor_walls_and_whole_corners(cells: dict[str, object]) -> None:
    """Area: w d + 2 h (w + d) + 4 h^2, as one rectangle (w + 2 h)(d + 2 h); hems 2 (w + d) / 2."""
    w, d, h = (Fraction(str(cells[name])) for name in ("width", "depth", "height"))
    (pan,) = made("drain pan", rim="raw", **cells).pieces
    assert len(outline(pan).points) == 4
    assert net_area(pan) == (w + 2 * h) * (d + 2 * h)
    # the folded ears are double: what shows is floor and walls
    ears = sum(face_area(Piece("ear", (f,))) for f in pan.facets if "ear" in f.name)
    assert ears == pytest.approx(4 * float(h) ** 2)
    (hemmed,) = made("drain pan", **cells).pieces
    assert net_area(hemmed) - net_area(pan) == 2 * (w + d) * Fraction(1, 2)


@pytest.mark.parametrize(
    ("cells", "holds"),
    [
        # 24 x 30 x 2 = 1440 in3; a US gallon is 231 in3 by definition
        ({"width": 24, "depth": 30, "height": 2}, "6.2 US gal"),
        # 231 x 10
        ({"width": 33, "depth": 35, "height": 2}, "10.0 US gal"),
    ],
)
def test_it_says_what_it_holds(cells: dict[str, object], holds: str) -> None:
    assert holds in made("drain pan", **cells).notes[0]


def test_a_metric_pan_holds_litres() -> None:
    # 600 x 500 x 50 mm = 15 litres
    result = made("drain pan", 'units = "mm"', width="600mm", depth="500mm", height="50mm")
    assert "15.0 litres" in result.notes[0]


def test_blank_and_bends_by_hand() -> None:
    # 24 + 2 x 2 + 2 x 1/2 = 29 by 30 + 5 = 35
    (pan,) = made("drain pan", width=24, depth=30, height=2).pieces
    shape = outline(pan)
    assert sorted((shape.width, shape.length)) == [29, 35]
    faces = [h for h in pan.hinges if pan.facet(h.child).role == "face"]
    assert sorted(h.angle for h in faces) == [90] * 8 + [180] * 4
    assert [h.angle for h in pan.closing] == [-180] * 4
    hems = [h.angle for h in pan.hinges if pan.facet(h.child).label == "hem"]
    assert hems == [-180] * 4  # turned out, over the ears


def test_the_drain_is_round_and_low_in_a_plain_wall() -> None:
    (pan,) = made("drain pan", width=30, depth=24, height=2, drain="7/8").pieces
    (hole,) = pan.holes
    assert hole.diameter == Fraction(7, 8)
    assert "ear" not in hole.facet
    wall = pan.facet(hole.facet)
    bend = next(h for h in pan.hinges if h.child == wall.name)
    assert hole.centre is not None
    # its edge 1/4 above the floor: centre 1/4 + 7/16
    assert abs(hole.centre[0] - bend.start[0]) == Fraction(11, 16)


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"height": 15}, None),
        ({"height": "15 1/16"}, "height"),
        ({"height": "1/2"}, None),
        ({"height": "7/16"}, "height"),
        ({"height": "3/8", "rim": "raw"}, None),
        ({"height": "5/16", "rim": "raw"}, "height"),
        ({"drain": "1 1/2"}, None),
        ({"drain": "1 9/16"}, "drain"),
        ({"width": 130}, "width"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("drain pan", **{"width": 24, "depth": 30, "height": 2, **cells}), column)


def test_walls_are_bent_in_the_brake_and_ears_by_hand_after_them() -> None:
    (pan,) = made("drain pan", width=24, depth=30, height=2).pieces
    order = bend_order(pan, shop().profile.brake)
    assert sorted(id(h) for step in order for h in step.hinges) == sorted(map(id, pan.bends))
    labels = [step.label for step in order]
    assert labels == ["hem"] * 4 + ["bend"] * 4 + ["ear"] * 3
    # the three folds of an ear, each at all four corners
    assert [len(step.hinges) for step in order[8:]] == [4, 4, 4]
    assert {str(step.place)[:7] for step in order[8:]} == {"by hand"}
