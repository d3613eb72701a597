"""Access doors: the frame goes round its hole, the door over the frame."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import Made
from takeoff.pattern.facets import Piece
from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import net_area, outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.folded import (
    assert_folds_and_meets,
    assert_limit,
    extent_at,
    face_points,
)
from tests.takeoff.fittings.making import card, made

sizes = st.integers(64, 400).map(lambda n: Fraction(n, 16))
collars = st.integers(8, 40).map(lambda n: Fraction(n, 16))


def parts(result: Made) -> tuple[Piece, Piece]:
    frame, door = result.pieces
    assert (frame.name, door.name) == ("frame", "door")
    return frame, door


@settings(max_examples=30, deadline=None)
@given(sizes, sizes, collars)
def test_the_frame_goes_round_its_hole_and_the_door_over_the_frame(
    width: Fraction, height: Fraction, collar: Fraction
) -> None:
    result = made("access door", width=width, height=height, collar=collar)
    assert_folds_and_meets(result)
    frame, door = parts(result)
    points = face_points(frame)
    (hole,) = result.cutouts
    xs, ys = zip(*hole.points, strict=True)
    for y in (0.0, float(collar)):
        assert extent_at(points, 1, y) == pytest.approx([width, height])
        assert extent_at(points, 1, y) == pytest.approx([max(xs) - min(xs), max(ys) - min(ys)])
    # the flange lies on the duct, outside the hole
    flanges = [c for name, c in fold_in_place(frame).items() if "flange" in name]
    assert len(flanges) == 4
    for flange in flanges:
        assert flange[:, 1] == pytest.approx(0, abs=1e-9)
        outside = (flange[:, 0] <= 1e-9) | (flange[:, 0] >= float(width) - 1e-9)
        outside |= (flange[:, 2] <= 1e-9) | (flange[:, 2] >= float(height) - 1e-9)
        assert outside.all()
    # the door closes the collar and is 1/8 wider on every side; its edges reach to the duct
    assert extent_at(face_points(door), 1, float(collar)) == pytest.approx(
        [float(width) + 0.25, float(height) + 0.25]
    )
    edges = np.vstack([c for name, c in fold_in_place(door).items() if name.endswith("edge")])
    assert edges[:, 1].min() == pytest.approx(0, abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(sizes, sizes, collars)
def test_area_of_frame_and_door(width: Fraction, height: Fraction, collar: Fraction) -> None:
    """Collar 2 (w + h) c; door (w + 1/4)(h + 1/4) with edges of c and hems of 1/2 round it."""
    frame, door = parts(made("access door", width=width, height=height, collar=collar))
    assert face_area(frame) == pytest.approx(float(2 * (width + height) * collar))
    w, h = width + Fraction(1, 4), height + Fraction(1, 4)
    assert net_area(door) == w * h + 2 * (w + h) * (collar + Fraction(1, 2))


def test_blanks_by_hand() -> None:
    # frame: 2 x (12 + 8) and a lap of 1, by 1 and a flange of 1; door: 12 1/4 + 2 x 1 1/2 by 11 1/4
    frame, door = parts(made("access door", width=12, height=8))
    assert sorted((outline(frame).width, outline(frame).length)) == [2, 41]
    assert sorted((outline(door).width, outline(door).length)) == [
        Fraction(45, 4),
        Fraction(61, 4),
    ]


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"collar": "1/2"}, None),
        ({"collar": "7/16"}, "collar"),
        ({"end_1": "lace"}, "end_1"),
        ({"end_1": "flange in", "width": 2}, "end_1"),
        ({"width": 70}, "width"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("access door", **{"width": 12, "height": 8, **cells}), column)


def test_a_door_needs_a_latch() -> None:
    with pytest.raises(ValidationError) as caught:
        card("access door", width=12, height=8, latches="0")
    assert caught.value.errors()[0]["loc"] == ("latches",)
