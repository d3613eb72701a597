"""How much seam a fitting has, by kind of seam."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from takeoff.fittings.base import Made
from takeoff.lengths import Length
from takeoff.pattern.facets import Piece
from takeoff.pattern.mating import SeamEdge
from takeoff.pattern.plane import distance

LAP = "lap"
"""The seam that does not lock: it is riveted."""


def seams(made: Made) -> Mapping[str, tuple[Fraction, ...]]:
    """The length of every seam of one fitting (in), by kind."""
    found: dict[str, tuple[Fraction, ...]] = {}
    for seam in made.seams:
        piece = made.pieces[seam.receiving.piece]
        found[seam.kind] = (*found.get(seam.kind, ()), edge_length(seam.receiving, piece))
    return found


def edge_length(edge: SeamEdge, piece: Piece) -> Fraction:
    """Along a seam's edge, measured on the flat piece (in)."""
    total: Length = Fraction(0)
    for name, at in edge.edges:
        corners = piece.facet(name).corners
        total = total + distance(corners[at], corners[(at + 1) % len(corners)])
    return exact(total)


def exact(length: Length) -> Fraction:
    """A length that can be summed without dust: a float is taken to a millionth of an inch."""
    return length if isinstance(length, Fraction) else Fraction(round(length * 10**6), 10**6)
