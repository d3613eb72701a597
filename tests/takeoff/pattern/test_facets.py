"""Pieces as values."""

import pickle

from takeoff.pattern.facets import Facet, Piece


def test_a_piece_of_facets_alone_crosses_to_another_process() -> None:
    piece = Piece("strip", (Facet("strip", ((0, 0), (4, 0), (4, 1), (0, 1))),))
    assert pickle.loads(pickle.dumps(piece)) == piece
