"""Rectangular taps against closed forms and against the hole they ask for."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.fittings import Made
from takeoff.pattern.facets import Forming, Piece
from takeoff.pattern.fold import fold_in_place
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

sixteenths = st.integers(0, 15).map(lambda n: Fraction(n, 16))
sizes = st.builds(lambda whole, part: whole + part, st.integers(4, 30), sixteenths)
entries = st.sampled_from(["straight", "shoe", "radius"])


def tap(entry: str, width: Fraction, height: Fraction, size: Fraction, neck: Fraction) -> Made:
    cells = {"entry_size": size} if entry != "straight" else {}
    return made("tap", width=width, height=height, length=size + neck, entry=entry, **cells)


def named(result: Made, name: str) -> Piece:
    return next(piece for piece in result.pieces if piece.name == name)


@settings(max_examples=30, deadline=None)
@given(entries, sizes, sizes, sizes, st.integers(1, 12).map(Fraction))
def test_any_tap_folds_closes_and_has_its_openings(
    entry: str, width: Fraction, height: Fraction, size: Fraction, neck: Fraction
) -> None:
    result = tap(entry, width, height, size, neck)
    assert_folds_and_meets(result)
    points = face_points(*result.pieces)
    reach = 0 if entry == "straight" else size
    assert extent_at(points, 2, float(size + neck)) == pytest.approx([width, height])
    # the opening on the duct is what the hole in the duct is
    base = extent_at(points, 2, 0.0)
    assert base == pytest.approx([width + reach, height])
    (hole,) = result.cutouts
    xs, ys = zip(*hole.points, strict=True)
    assert [max(xs) - min(xs), max(ys) - min(ys)] == pytest.approx(base)
    # it lies about the branch's axis as the folded opening does about it
    at_base = points[np.abs(points[:, 2]) < 1e-6]
    assert float(at_base[:, 0].min()) - float(width) / 2 == pytest.approx(float(min(xs)))
    assert float(at_base[:, 0].max()) - float(width) / 2 == pytest.approx(float(max(xs)))


@settings(max_examples=30, deadline=None)
@given(entries, sizes, sizes, sizes, st.integers(1, 12).map(Fraction))
def test_flat_area_is_the_area_of_the_finished_sides(
    entry: str, width: Fraction, height: Fraction, size: Fraction, neck: Fraction
) -> None:
    """Cheek: a rectangle and what the entry adds: r^2 / 2 (shoe), r^2 (1 - pi / 4) (radius).

    Throat: the length, less the entry, with the hypotenuse or a quarter circle instead.
    """
    result = tap(entry, width, height, size, neck)
    length = size + neck
    extra = {"straight": 0.0, "shoe": 0.5, "radius": 1 - math.pi / 4}[entry] * float(size) ** 2
    slope = {"straight": 1.0, "shoe": math.sqrt(2), "radius": math.pi / 2}[entry] * float(size)
    cheeks = [piece for piece in result.pieces if piece.name == "cheek"]
    # chords lie up to 1/64 off the arc, on the inner side of it
    assert face_area(*cheeks) == pytest.approx(
        2 * (float(width * length) + extra), abs=2 * TOLERANCE * slope
    )
    assert face_area(named(result, "heel")) == pytest.approx(float(length * height))
    assert face_area(named(result, "throat")) == pytest.approx(
        (float(neck) + slope) * float(height), abs=1e-2 * float(height)
    )


@settings(max_examples=20, deadline=None)
@given(sizes, sizes, sizes)
def test_the_radius_lies_on_its_circle(width: Fraction, height: Fraction, size: Fraction) -> None:
    """Every chord of the throat is within 1/64 in of the circle about (-r, r)."""
    throat = named(tap("radius", width, height, size, Fraction(2)), "throat")
    radius = float(size)
    for name, corners in fold_in_place(throat).items():
        if name.startswith("throat") and "pocket" not in name and "drive" not in name:
            middle = corners.mean(axis=0)
            if middle[2] < radius and "flange" not in name:
                off = math.hypot(middle[0] + radius, middle[2] - radius) - radius
                assert abs(off) <= TOLERANCE


def test_blanks_of_a_shoe_tap_by_hand() -> None:
    # heel: 10 long, drive 1/2 (8 high is the short side of 14 x 8), flange 1: 11 1/2 by 8 + 2 x 1
    # throat: 10 - 4 up, 4 x sqrt 2 down the shoe: 11.657, and the same ends
    result = made("tap", width=14, height=8, length=10, entry="shoe", entry_size=4)
    heel, throat = outline(named(result, "heel")), outline(named(result, "throat"))
    assert sorted((heel.width, heel.length)) == [10, Fraction(23, 2)]
    assert sorted((throat.width, throat.length)) == pytest.approx([10, 6 + 4 * 2**0.5 + 1.5])


def test_the_flange_lies_flat_on_the_duct_whatever_the_entry() -> None:
    for entry, angle in (("straight", -90), ("shoe", -45), ("radius", 0)):
        cells = {} if entry == "straight" else {"entry_size": 4}
        throat = named(made("tap", width=14, height=8, length=10, entry=entry, **cells), "throat")
        (name,) = (facet.name for facet in throat.facets if facet.label == "flange")
        (hinge,) = (hinge for hinge in throat.hinges if hinge.child == name)
        assert hinge.angle == pytest.approx(angle, abs=5)  # a radius ends in half a chord's turn
        assert hinge.forming is (Forming.ROLL if entry == "radius" else Forming.BRAKE)
        assert fold_in_place(throat)[name][:, 2] == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"entry": "shoe", "entry_size": 10}, "entry_size"),
        ({"entry": "radius", "entry_size": "9 7/8", "end_2": "raw"}, None),
        ({"entry": "shoe", "entry_size": "9 7/8"}, "length"),
        ({"entry": "straight", "entry_size": 2}, "entry_size"),
        ({"end_1": "lace"}, "end_1"),
        ({"seam": "glue"}, "seam"),
        ({"width": 121}, "length"),
    ],
)
def test_what_cannot_be_made_names_its_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("tap", **{"width": 14, "height": 8, "length": 10, **cells}), column)
