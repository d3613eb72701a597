"""The corners where two riveted flanges lap, found on the folded fitting."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from takeoff.fittings.base import Made
from takeoff.pattern.facets import Hinge, Piece, Role
from takeoff.pattern.fold import Corners, fold_in_place
from takeoff.pattern.plane import distance
from takeoff.settings import EndTreatment

NEAR = 1 / 16
"""Inches within which two flanges meet in one corner."""


@dataclass(frozen=True)
class _Flange:
    """The edge of a face with its treatment: where it is, and its two ends in space."""

    piece: int
    face: str
    rivets: int
    ends: tuple[Corners, Corners]


def corner_rivets(made: Made, ends: Mapping[str, EndTreatment]) -> int:
    """How many rivets the corners of one fitting take, by the treatments' `rivets_per_corner`.

    Flanges of two faces that are bent from one another are mitred at the bend: there is no lap to
    rivet, and such a corner takes none.
    """
    flanges = [
        flange
        for place, piece in enumerate(made.pieces)
        for flange in _flanges(place, piece, ends)
        if flange.rivets
    ]
    bent = {
        (place, frozenset({hinge.parent, hinge.child}))
        for place, piece in enumerate(made.pieces)
        for hinge in piece.bends
    }
    return sum(
        min(a.rivets, b.rivets)
        for a, b in combinations(flanges, 2)
        if _meet(a, b)
        and not (a.piece == b.piece and (a.piece, frozenset({a.face, b.face})) in bent)
    )


def _flanges(place: int, piece: Piece, ends: Mapping[str, EndTreatment]) -> Iterator[_Flange]:
    edges = [
        hinge
        for hinge in piece.hinges
        if piece.facet(hinge.child).role is Role.END and piece.facet(hinge.parent).role is Role.FACE
    ]
    if not edges or not any(end.rivets_per_corner for end in ends.values()):
        return
    folded = fold_in_place(piece)
    for hinge in edges:
        strips = _strips(piece, hinge)
        rivets = max(
            (end.rivets_per_corner for end in ends.values() if _rule(end) == strips), default=0
        )
        corners = piece.facet(hinge.parent).corners
        first, last = (
            folded[hinge.parent][min(range(len(corners)), key=lambda i: distance(corners[i], at))]
            for at in (hinge.start, hinge.end)
        )
        yield _Flange(place, hinge.parent, rivets, (first, last))


def _strips(piece: Piece, hinge: Hinge) -> tuple[tuple[str, float], ...]:
    """Label and angle of the strips from an edge outward."""
    further = [h for h in piece.hinges if h.parent == hinge.child]
    mine = (piece.facet(hinge.child).label, round(float(hinge.angle), 6))
    return (mine, *(_strips(piece, further[0]) if further else ()))


def _rule(end: EndTreatment) -> tuple[tuple[str, float], ...]:
    return tuple((label, round(float(rule.angle), 6)) for label, rule in end.strips.items())


def _meet(a: _Flange, b: _Flange) -> bool:
    return any(np.linalg.norm(p - q) < NEAR for p in a.ends for q in b.ends)
