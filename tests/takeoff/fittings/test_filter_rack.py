"""Filter racks: the filter goes in, is held, and meets no screw."""

from fractions import Fraction

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.fittings import CannotMake, Made
from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.folded import (
    assert_folds_and_meets,
    assert_limit,
    extent_at,
    face_points,
    hole_places,
)
from tests.takeoff.fittings.making import card, made

UNDERSIZE = 0.5
"""Inches a filter is less than nominal in width and height. Common practice, no source."""
DUCT = ("wrap", "L", "U", "side", "width side", "height side")


@st.composite
def racks(draw: st.DrawFn) -> dict[str, object]:
    thickness = draw(st.sampled_from([1, 2, 4]))
    return {
        "width": draw(st.integers(8, 25)),
        "height": draw(st.integers(8, 25)),
        "thickness": thickness,
        "length": thickness + 2 + draw(st.integers(0, 6)),
        "slot": draw(st.sampled_from(["left", "right", "top", "bottom"])),
    }


def duct_of(result: Made) -> list[object]:
    return [piece for piece in result.pieces if piece.name.split(",")[0] in DUCT]


def places(result: Made, label: str, duct: bool) -> npt.NDArray[np.float64]:
    """Middles of holes in the duct's own pieces or in all the others."""
    mine = duct_of(result)
    found = [hole_places(p, label) for p in result.pieces if (p in mine) == duct]
    return np.vstack(found)


@settings(max_examples=30, deadline=None)
@given(racks())
def test_any_rack_folds_closes_and_has_its_opening(cells: dict[str, object]) -> None:
    result = made("filter rack", **cells)
    assert_folds_and_meets(result)
    points = face_points(*duct_of(result))  # type: ignore[arg-type]
    for end in (0.0, float(cells["length"])):  # type: ignore[arg-type]
        assert extent_at(points, 1, end) == pytest.approx([cells["width"], cells["height"]])


@settings(max_examples=30, deadline=None)
@given(racks())
def test_the_filter_goes_in_and_is_held(cells: dict[str, object]) -> None:
    result = made("filter rack", **cells)
    middle, thick = float(cells["length"]) / 2, float(cells["thickness"])  # type: ignore[arg-type]
    level = cells["slot"] in ("left", "right")
    # the slot is as wide as the filter is nominally thick, and takes the filter's actual height
    (slot,) = [h for p in result.pieces for h in p.holes if h.label.startswith("slot")]
    xs, ys = zip(*slot.points, strict=True)
    spans = sorted([float(max(xs) - min(xs)), float(max(ys) - min(ys))])
    across = float(cells["height"] if level else cells["width"])  # type: ignore[arg-type]
    assert spans == pytest.approx(sorted([thick, across - UNDERSIZE * 3 / 4]))
    assert across - UNDERSIZE < max(spans) < across
    # rails stand at both faces of the filter on three sides, and reach further than it can shift
    legs = [fold_in_place(p)["leg 2"] for p in result.pieces if "rail" in p.name]
    assert len(legs) == 6
    assert sorted(leg[:, 1].mean() for leg in legs) == pytest.approx(
        [middle - thick / 2] * 3 + [middle + thick / 2] * 3
    )
    assert all(np.ptp(leg[:, 1]) < 1e-9 for leg in legs)
    for leg in legs:
        depth = min(np.ptp(leg[:, 0]), np.ptp(leg[:, 2]))
        assert depth == pytest.approx(0.75)
        assert depth > UNDERSIZE
    inside = np.vstack(legs)
    assert inside[:, 0].min() >= -1e-9
    assert inside[:, 0].max() <= float(cells["width"]) + 1e-9  # type: ignore[arg-type]


@settings(max_examples=30, deadline=None)
@given(racks())
def test_no_screw_comes_near_the_track_and_every_hole_has_its_mate(
    cells: dict[str, object],
) -> None:
    result = made("filter rack", **cells)
    middle, thick = float(cells["length"]) / 2, float(cells["thickness"])  # type: ignore[arg-type]
    duct, others = places(result, "screw", duct=True), places(result, "screw", duct=False)
    clear = np.abs(duct[:, 1] - middle) - thick / 2 - 1 / 16
    assert clear.min() > 1 / 8
    # each screw goes through the duct and through a rail or the cover
    assert len(duct) == len(others)
    gaps = np.linalg.norm(duct[:, None, :] - others[None, :, :], axis=2).min(axis=1)
    assert gaps.max() < 1e-6
    count = sum(item.qty for item in result.hardware if "screw" in item.what)
    assert count == len(duct)
    # none farther apart along its rail than the profile says
    for piece in result.pieces:
        if "rail" in piece.name:
            along = np.sort(np.array([float(h.centre[1]) for h in piece.holes if h.centre]))
            assert np.diff(along).max() <= 8 + 1e-9


def test_sizes_by_hand() -> None:
    # 20 x 20 x 1: wrap 4 x 20 + 1 1/4, 8 + 2 x 1/2 long; rails 3/4 + 3/4; stop rails 20 - 2 x 3/4;
    # cover: 1 + 2 x 1 with hems of 1/2: 4, by 20 with 1 turned down at either end: 22
    result = made("filter rack", width=20, height=20)
    sizes = {p.name: sorted((outline(p).width, outline(p).length)) for p in result.pieces}
    assert sizes == {
        "wrap": [9, Fraction(325, 4)],
        "rail": [Fraction(3, 2), 20],
        "stop rail": [Fraction(3, 2), Fraction(37, 2)],
        "cover": [4, 22],
    }
    # area: four sides of 8 by 20, less a slot of 1 x 19 5/8 and 32 holes of 1/8 (pi / 256 each)
    (wrap,) = [p for p in result.pieces if p.name == "wrap"]
    assert face_area(wrap) == pytest.approx(640 - 19.625 - 32 * 3.14159 / 256, abs=1e-3)


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"length": 3}, None),
        ({"length": "2 15/16"}, "length"),
        ({"width": "2 1/16"}, None),
        ({"width": 2}, "width"),
        ({"height": 2}, "height"),
        ({"end_1": "lace"}, "end_1"),
        ({"width": 100, "arrangement": "one piece"}, "arrangement"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("filter rack", **{"width": 20, "height": 16, **cells}), column)


def test_rails_that_would_let_the_filter_out_are_refused() -> None:
    with pytest.raises(CannotMake) as caught:
        made("filter rack", '[filter]\nrail = "1/2"', width=20, height=20)
    assert caught.value.column == "filter.rail"
    made("filter rack", '[filter]\nrail = "9/16"', width=20, height=20)
