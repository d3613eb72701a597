"""Notches: each kind has a letter and its size, and what is cut away is told in full."""

from fractions import Fraction

from takeoff.blanks import JobBlank
from takeoff.drawing.notch_keys import notch_groups
from takeoff.lengths import INCH
from takeoff.papers.piece_words import notch_lines
from takeoff.pattern.facets import NotchKind

from .test_piece import blanks_of, drawn, every_example, natural_order, texts


def test_the_notches_of_a_pan_with_flanges_by_hand() -> None:
    # an end cap of 10 x 6 with 1 in flanges: four corners of 1 x 1 are cut out
    (cap,) = blanks_of("end cap", width="10", height="6")
    (group,) = notch_groups(cap.piece)
    assert (group.letter, group.kind, len(group.notches)) == ("a", NotchKind.CORNER, 4)
    assert (group.along, group.into) == (Fraction(1), Fraction(1))
    assert notch_lines(cap.piece, INCH) == [("a", "4 x corner notch 1 x 1")]


@every_example
def test_letters_stand_for_every_notch_and_each_is_drawn_once_at_least(blank: JobBlank) -> None:
    groups = notch_groups(blank.piece)
    assert sum(len(group.notches) for group in groups) == len(blank.piece.notches)
    assert len({group.letter for group in groups}) == len(groups)
    written = {item.text for item in texts(drawn(blank, natural_order(blank)))}
    lacking = [group.letter for group in groups if group.letter not in written]
    assert len(lacking) <= len(groups) // 2
