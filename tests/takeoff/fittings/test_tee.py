"""Rectangular tees against closed forms."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.fittings import Made
from takeoff.fittings.base import OpenEnd
from takeoff.pattern.outline import outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.folded import (
    TOLERANCE,
    assert_folds_and_meets,
    assert_limit,
    extent_at,
    face_points,
)
from tests.takeoff.fittings.making import card, made

eighths = st.integers(0, 7).map(lambda n: Fraction(n, 8))
sizes = st.builds(lambda whole, part: whole + part, st.integers(4, 24), eighths)


@st.composite
def tees(draw: st.DrawFn) -> dict[str, object]:
    width, height, branch = draw(sizes), draw(sizes), draw(sizes)
    entry = draw(st.sampled_from(["straight", "shoe", "radius"]))
    size = Fraction(draw(st.integers(1, 8)))
    near = size + draw(st.integers(1, 8))
    cells: dict[str, object] = {
        "width": width,
        "width_2": width * Fraction(draw(st.integers(4, 8)), 8),
        "height": height,
        "branch": branch,
        "neck": size + draw(st.integers(1, 6)),
        "at": near,
        "length": near + branch + draw(st.integers(1, 12)),
        "entry": entry,
    }
    return cells if entry == "straight" else {**cells, "entry_size": size}


def numbers(cells: dict[str, object]) -> dict[str, float]:
    return {name: float(value) for name, value in cells.items() if name != "entry"}  # type: ignore


def walls(result: Made) -> dict[str, float]:
    return {p.name: face_area(p) for p in result.pieces if p.name != "cheek"}


@settings(max_examples=30, deadline=None)
@given(tees())
def test_any_tee_folds_closes_and_has_its_three_openings(cells: dict[str, object]) -> None:
    result = made("tee", **cells)
    assert_folds_and_meets(result)
    points, size = face_points(*result.pieces), numbers(cells)
    assert extent_at(points, 0, 0.0) == pytest.approx([size["height"], size["width"]])
    assert extent_at(points, 0, size["length"]) == pytest.approx([size["height"], size["width_2"]])
    branch = extent_at(points, 2, size["width"] + size["neck"])
    assert branch == pytest.approx([size["branch"], size["height"]])


@settings(max_examples=30, deadline=None)
@given(tees())
def test_flat_area_is_the_area_of_the_finished_sides(cells: dict[str, object]) -> None:
    """Cheek: run, less the step down to the narrower end, with the branch and its entry."""
    result, size = made("tee", **cells), numbers(cells)
    reach = size.get("entry_size", 0.0)
    entry = str(cells["entry"])
    slope = {"straight": 0.0, "shoe": math.sqrt(2), "radius": math.pi / 2}[entry] * reach
    added = {"straight": 0.0, "shoe": 0.5, "radius": 1 - math.pi / 4}[entry] * reach**2
    beyond = size["length"] - size["at"] - size["branch"]
    drop = size["width"] - size["width_2"]
    cheek = size["width"] * size["length"] - drop * beyond + size["branch"] * size["neck"] + added
    cheeks = [piece for piece in result.pieces if piece.name == "cheek"]
    assert face_area(*cheeks) == pytest.approx(2 * cheek, abs=2 * TOLERANCE * slope + 1e-9)
    areas = walls(result)
    assert areas["back"] == pytest.approx(size["length"] * size["height"])
    assert areas["outlet side"] == pytest.approx((beyond + drop + size["neck"]) * size["height"])
    girth = size["at"] + size["neck"] - 2 * reach + slope if reach else size["at"] + size["neck"]
    assert areas["inlet side"] == pytest.approx(girth * size["height"], rel=1e-3)


def test_blanks_of_a_plain_tee_by_hand() -> None:
    # cheek: run 24 long and 16 wide, branch 3 above it: 19 high; on the shorter sides drives 1/2.
    # 16 and 8 wide ends by 8 high: cheeks carry no drive (16 > 8, and 8 x 8 has them on the walls),
    # single edges 1/4 below the back: 16 + 3 + 1/4 = 19 1/4 by 24
    result = made("tee", width=16, height=8, length=24, branch=8, neck=3)
    shapes = {p.name: outline(p) for p in result.pieces}
    assert sorted((shapes["cheek"].width, shapes["cheek"].length)) == [Fraction(77, 4), 24]
    # back: 24 + 2 x 1/2 by 8 + 2 x 1
    assert sorted((shapes["back"].width, shapes["back"].length)) == [10, 25]
    # side: (24 - 8) / 2 + 3 + 2 x 1/2
    assert sorted((shapes["inlet side"].width, shapes["inlet side"].length)) == [10, 12]


def test_its_open_ends() -> None:
    tee = card("tee", width=20, width_2=14, height=8, length=30, branch=12, end_3="flange out")
    assert tee.open_ends() == (
        OpenEnd("end 1", "slip and drive", 20, 8),
        OpenEnd("end 2", "slip and drive", 14, 8),
        OpenEnd("end 3", "flange out", 12, 8),
    )


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"branch": 24}, "branch"),
        ({"branch": 30}, "branch"),
        ({"at": 16}, "at"),
        ({"at": "15 1/2"}, None),
        ({"at": "15 3/4"}, "neck"),
        ({"width_2": 17}, "width_2"),
        ({"width_2": 16}, None),
        ({"entry": "shoe", "entry_size": 3}, "entry_size"),
        ({"entry": "shoe", "entry_size": "2 3/4"}, "entry_size"),
        ({"entry": "shoe", "entry_size": "2 1/2"}, None),
        ({"neck": "1/4"}, "neck"),
        ({"length": 121, "at": 4}, "length"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(
        card("tee", **{"width": 16, "height": 8, "length": 24, "branch": 8, "neck": 3, **cells}),
        column,
    )
