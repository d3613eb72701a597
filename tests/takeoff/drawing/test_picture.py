"""Folded pictures: what is nearer hides what is farther; a brute-force look is the referee."""

import random

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from takeoff.blanks import make_line
from takeoff.drawing.picture import _back_to_front, _Face, _faces, folded_picture
from takeoff.drawing.primitives import Area
from takeoff.fittings import families
from takeoff.jobs.job import JobLine
from takeoff.pattern.facets import Piece
from tests.takeoff.fittings.making import example_card, made, shop

LOOKS = 60


def pieces_of(kind: str) -> tuple[Piece, ...]:
    family = families()[kind]
    bench = shop()
    line = JobLine(2, "F1", example_card(family, family.examples[0]), 1, bench.metal)
    return make_line(line, bench).made.pieces


@pytest.mark.parametrize("kind", ["box", "return box", "plenum", "straight duct", "tee", "elbow"])
def test_the_nearest_face_is_painted_last_wherever_one_looks(kind: str) -> None:
    faces = [face for piece in pieces_of(kind) for face in _faces(piece, True)]
    painted = _back_to_front(faces)
    shapes = [Polygon(face.points) for face in painted]
    spots = random.Random(1)
    wrong = 0
    for face in painted:
        (left, low), (right, high) = face.box
        for _ in range(LOOKS // 10):
            at = spots.uniform(left, right), spots.uniform(low, high)
            hit = [place for place, shape in enumerate(shapes) if _well_inside(shape, at)]
            if hit:
                nearest = max(painted[place].depth(at) for place in hit)
                wrong += nearest - painted[hit[-1]].depth(at) > 0.05
    assert wrong == 0


def _well_inside(shape: Polygon, at: tuple[float, float]) -> bool:
    return shape.contains(Point(at)) and shape.exterior.distance(Point(at)) > 0.05


def test_depth_is_that_of_the_plane() -> None:
    face: _Face = next(iter(_faces(pieces_of("box")[0], True)))
    assert [face.depth(point) for point in face.points] == pytest.approx(face.depths)


@pytest.mark.parametrize("kind", sorted(families()))
def test_every_fitting_and_piece_has_a_picture(kind: str) -> None:
    pieces = pieces_of(kind)
    for shown in (pieces, *((piece,) for piece in pieces)):
        drawing = folded_picture(shown, (150.0, 120.0), kind)
        assert all(isinstance(item, Area) for item in drawing.items)
        wide, high = drawing.size
        assert 0 < wide <= 150 + 1e-6
        assert 0 < high <= 120 + 1e-6
        assert np.isfinite(drawing.scale)


def test_inside_and_outside_are_told_apart() -> None:
    # a box open on top, from above: outsides of two walls, insides of the other two and the floor
    (wrap, *_) = made("box", width="16", depth="12", height="10", open="top").pieces
    drawing = folded_picture([wrap], (150.0, 120.0), "wrap")
    greys = {item.fill for item in drawing.items if isinstance(item, Area)}
    assert min(g for g in greys if g is not None) < 0.8 < max(g for g in greys if g is not None)


def test_an_opening_is_drawn_dark() -> None:
    pieces = made("plenum", width="18", depth="19", height="20", openings="right 14 x 8").pieces
    drawing = folded_picture(pieces, (150.0, 120.0), "plenum")
    assert any(isinstance(item, Area) and item.fill == 0.4 for item in drawing.items)
