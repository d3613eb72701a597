"""Outlines, strips and notches, exact to the last fraction."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.pattern.allowances import Strip, Trim, allowance, join_notches, notch_size
from takeoff.pattern.edging import Edging, Meeting, sloped, trims_at_seam
from takeoff.pattern.facets import Facet, Forming, Hinge, NotchKind, Piece, Role
from takeoff.pattern.outline import outline
from takeoff.pattern.plane import area
from takeoff.pattern.settle import cut_key, settle

HALF = Fraction(1, 2)
FLANGE = Strip(Fraction(2), 90, "flange", Role.END)
LIP = Strip(HALF, 45, "lip", Role.END)
SQUARE_FACE = Facet("face", ((0, 0), (10, 0), (10, 6), (0, 6)))


def with_strips(start: tuple[Trim, ...], end: tuple[Trim, ...]) -> Piece:
    added = allowance("face", (0, 0), (10, 0), (FLANGE, LIP), start, end, "bottom")
    return Piece("flap", (SQUARE_FACE, *added.facets), added.hinges, notches=added.notches)


def test_square_strips_make_the_blank_longer_by_their_widths() -> None:
    shape = outline(with_strips((), ()))
    assert (shape.width, shape.length) == (10, 8 + HALF)
    assert (
        shape.points == ((0, 6), (0, -2 - HALF), (10, -2 - HALF), (10, 6)) or len(shape.points) == 4
    )


def test_one_slanted_cut_runs_through_flange_and_lip() -> None:
    piece = with_strips(sloped((FLANGE, LIP), 1), ())
    (notch,) = piece.notches
    assert notch.kind is NotchKind.TRIM
    assert abs(area(notch.points)) == (2 + HALF) ** 2 / 2
    assert outline(piece).area == 60 + 10 * (2 + HALF) - (2 + HALF) ** 2 / 2


def test_a_lapped_lip_steps_back_behind_the_flange_below_it() -> None:
    mine = Edging((FLANGE, LIP), 1, Meeting.LAP)
    on_top = trims_at_seam(mine, mine, on_top=True)
    below = trims_at_seam(mine, mine, on_top=False)
    assert on_top == (Trim(), Trim(2, 2 + HALF))
    assert below == (Trim(), Trim(0, HALF))
    kinds = [notch.kind for notch in with_strips(on_top, ()).notches]
    assert kinds == [NotchKind.STEP, NotchKind.TRIM]


def test_two_slanted_cuts_at_a_bend_are_one_v_notch() -> None:
    pocket = (Strip(Fraction(1), 0, "pocket", Role.SEAM, Forming.LOCK_FORMER),)
    slant = sloped(pocket, Fraction(1, 8))
    left = allowance("left", (0, 0), (10, 0), pocket, (), slant, "front")
    right = allowance("right", (10, 0), (18, 0), pocket, slant, (), "front")
    (notch,) = join_notches([*left.notches, *right.notches])
    assert notch.kind is NotchKind.V
    assert notch_size(notch) == (Fraction(1, 4), 1)


def test_a_strip_turned_out_across_a_bend_is_slit() -> None:
    strips = (Strip(Fraction(1), -90, "flange", Role.END),)
    left = Facet("left", ((0, 0), (10, 0), (10, 6), (0, 6)))
    right = Facet("right", ((10, 0), (18, 0), (18, 6), (10, 6)))
    a = allowance("left", (0, 0), (10, 0), strips)
    b = allowance("right", (10, 0), (18, 0), strips)
    bend = Hinge("left", "right", (10, 0), (10, 6), 90)
    piece = Piece("wrap", (left, right, *a.facets, *b.facets), (bend, *a.hinges, *b.hinges))
    (slit,) = outline(piece).slits
    assert (slit.start, slit.end) == ((10, -1), (10, 0))
    assert len(outline(piece).points) == 4


def test_a_bend_line_off_its_facets_is_refused() -> None:
    flap = Facet("flap", ((2, 7), (8, 7), (8, 9), (2, 9)))
    with pytest.raises(ValueError, match="does not lie on one of its edges"):
        outline(Piece("bad", (SQUARE_FACE, flap), (Hinge("face", "flap", (2, 0), (8, 0), 90),)))


@given(st.fractions(-50, 50), st.fractions(-50, 50))
def test_settling_moves_the_datum_and_nothing_else(dx: Fraction, dy: Fraction) -> None:
    moved = Facet("face", tuple((x + dx, y + dy) for x, y in SQUARE_FACE.corners))
    piece = settle(Piece("blank", (moved,)))
    assert outline(piece).corner == (0, 0)
    assert outline(piece).area == 60
    assert cut_key(piece) == cut_key(Piece("blank", (SQUARE_FACE,)))
