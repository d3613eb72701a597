"""What the tests of round fittings measure alike, on the flat pattern and on the folded metal."""

import math
from collections.abc import Callable, Iterator
from fractions import Fraction

import numpy as np
import numpy.typing as npt
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from takeoff.fittings import Made
from takeoff.pattern.facets import Facet, Forming, Piece, Role
from takeoff.pattern.fold import fold_in_place, worst_miss
from takeoff.pattern.mating import gap
from tests.takeoff.covered import assert_outline_is_its_facets

SIXTY_FOURTH = 1 / 64
SOME = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
MANY = settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
Points = npt.NDArray[np.float64]


def quarters(least: int, most: int) -> st.SearchStrategy[Fraction]:
    """Lengths in quarters of an inch."""
    return st.integers(4 * least, 4 * most).map(lambda n: Fraction(n, 4))


def assert_sound(made: Made) -> None:
    """It folds onto its shape, its seams meet, and its flat pieces are simple and whole."""
    for piece in made.pieces:
        assert worst_miss(piece) <= SIXTY_FOURTH, piece.name
        assert_outline_is_its_facets(piece)
    for seam in made.seams:
        assert gap(seam, made.pieces) <= SIXTY_FOURTH, seam.kind


def faces(piece: Piece) -> list[Facet]:
    return [facet for facet in piece.facets if facet.role is Role.FACE]


def named(made: Made, name: str) -> tuple[Piece, ...]:
    return tuple(piece for piece in made.pieces if piece.name == name)


def folded_faces(piece: Piece) -> dict[str, Points]:
    """The corners of the folded faces, in the fitting's own space."""
    folded = fold_in_place(piece)
    return {facet.name: folded[facet.name] for facet in faces(piece)}


def sampled(piece: Piece) -> Points:
    """Points all over the folded faces: corners, middles of edges, and in between."""
    points = []
    for corners in folded_faces(piece).values():
        middles = (corners + np.roll(corners, -1, axis=0)) / 2
        points += [corners, middles, corners.mean(axis=0, keepdims=True)]
        points += [(middles + np.roll(middles, -1, axis=0)) / 2]
    return np.vstack(points)


def sides(piece: Piece, edge: int) -> Iterator[float]:
    """The flat length of an edge of each face, by its number."""
    for facet in faces(piece):
        corners = np.array([[float(c) for c in corner] for corner in facet.corners])
        yield float(np.linalg.norm(corners[(edge + 1) % len(corners)] - corners[edge]))


def girth(piece: Piece, edge: int) -> float:
    """The flat length of a rim (in)."""
    return sum(sides(piece, edge))


def strips(piece: Piece, label: str) -> list[Facet]:
    return [facet for facet in piece.facets if facet.label == label]


def rolls(piece: Piece) -> int:
    """Rolled lines between faces."""
    kinds = {facet.name: facet.role for facet in piece.facets}
    return sum(
        hinge.forming is Forming.ROLL and kinds[hinge.child] is Role.FACE for hinge in piece.hinges
    )


def round_integral(curve: Callable[[npt.NDArray[np.float64]], npt.NDArray[np.float64]]) -> float:
    """The integral of a smooth periodic curve over one turn (trapezoids converge at once)."""
    turns = np.arange(4096) * 2 * math.pi / 4096
    return float(curve(turns).mean() * 2 * math.pi)
