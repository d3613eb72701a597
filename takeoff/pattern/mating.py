"""Seams between pieces, and the proof that their edges meet when the pieces are folded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .facets import Piece
from .fold import Corners, fold_in_place


@dataclass(frozen=True)
class SeamEdge:
    """One half of a seam: a run of facet edges of one of the fitting's pieces.

    Args:
        piece: the piece's place in the fitting, from 0.
        edges: facet name and number of the edge (from its first corner), in running order.
    """

    piece: int
    edges: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Seam:
    """A seam: its kind, the edge with the receiving half and the edge that enters it."""

    kind: str
    receiving: SeamEdge
    entering: SeamEdge


def gap(seam: Seam, pieces: Sequence[Piece]) -> float:
    """How far apart the two edges of a seam are when both pieces are folded (in).

    The largest distance between matching points of the runs, which run against each other. Both
    halves must be cut into the same number of edges.
    """
    a = edge_in_space(seam.receiving, pieces)
    b = edge_in_space(seam.entering, pieces)
    if len(a) != len(b):
        raise ValueError(f"{seam.kind}: {len(a) - 1} edges cannot meet {len(b) - 1}")
    return float(np.linalg.norm(a - b[::-1], axis=1).max())


def edge_in_space(edge: SeamEdge, pieces: Sequence[Piece]) -> Corners:
    """The points along a seam's edge on the folded piece, shape (edges + 1, 3), inches."""
    folded = fold_in_place(pieces[edge.piece])
    points = [folded[facet][at] for facet, at in edge.edges]
    facet, at = edge.edges[-1]
    points.append(folded[facet][(at + 1) % len(folded[facet])])
    return np.array(points)
