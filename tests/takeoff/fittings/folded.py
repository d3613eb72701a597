"""What the tests of the families measure on folded pieces and flat patterns."""

import numpy as np
import numpy.typing as npt
import pytest

from takeoff.fittings import CannotMake, Fitting, Made
from takeoff.pattern.facets import Piece, Role
from takeoff.pattern.fold import fold_in_place, mould_corners, worst_miss
from takeoff.pattern.mating import gap
from tests.takeoff.covered import assert_outline_is_its_facets
from tests.takeoff.fittings.making import shop

TOLERANCE = 1 / 64
"""Inches within which folded metal must lie where it is wanted."""


def assert_folds_and_meets(made: Made) -> None:
    """Pieces land on their stated shape, seams close, outlines are what the facets cover."""
    for piece in made.pieces:
        assert worst_miss(piece) <= TOLERANCE, piece.name
        assert_outline_is_its_facets(piece)
    for seam in made.seams:
        assert gap(seam, made.pieces) <= TOLERANCE, seam


def assert_limit(asked: Fitting, column: str | None) -> None:
    """It is refused for the column that must change, and told what would do; None: it is made."""
    if column is None:
        assert_folds_and_meets(asked.make(shop()))
        return
    with pytest.raises(CannotMake) as caught:
        asked.make(shop())
    assert caught.value.column == column
    assert caught.value.allowed


def face_points(*pieces: Piece) -> npt.NDArray[np.float64]:
    """The corners of every folded face in the fitting's space, shape (points, 3), inches."""
    corners = [
        place
        for piece in pieces
        for name, place in fold_in_place(piece).items()
        if piece.facet(name).role is Role.FACE
    ]
    return np.vstack(corners)


def extent_at(points: npt.NDArray[np.float64], axis: int, value: float) -> list[float]:
    """Sizes of what lies in the plane where a coordinate has a value, along the other two (in)."""
    here = points[np.abs(points[:, axis] - value) < 1e-6]
    assert len(here) > 2
    return [float(np.ptp(here[:, other])) for other in range(3) if other != axis]


def hole_places(piece: Piece, label: str) -> npt.NDArray[np.float64]:
    """Middles of the holes of a label on the folded piece, shape (holes, 3), inches.

    A facet's sheet corners and space corners fix the affine map of its plane.
    """
    folded = fold_in_place(piece)
    places = []
    for hole in piece.holes:
        if not hole.label.startswith(label):
            continue
        flat = mould_corners(piece.facet(hole.facet), piece.hinges, None)
        sheet = np.column_stack([flat[:, :2], np.ones(len(flat))])
        motion, *_ = np.linalg.lstsq(sheet, folded[hole.facet], rcond=None)
        points = np.array([[float(x), float(y), 1.0] for x, y in hole.points])
        places.append((points @ motion).mean(axis=0))
    return np.array(places).reshape(-1, 3)
