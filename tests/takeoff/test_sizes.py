"""Sheets and offcuts are told in one way, and never larger than they are."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from takeoff.lengths import INCH, MILLIMETRE, Unit, parse
from takeoff.sizes import sides, size

LENGTHS = st.fractions(min_value=Fraction(1, 16), max_value=600, max_denominator=2000)


def test_a_size_is_told_as_the_tape_reads_it() -> None:
    assert size(Fraction(35, 2), Fraction(23), INCH) == "17 1/2 x 23 in"
    assert sides(Fraction(48), Fraction(96), INCH) == "48 x 96"
    assert size(600 * MILLIMETRE.inches, 1200 * MILLIMETRE.inches, MILLIMETRE) == "600 x 1200 mm"
    # 600 mm is 23 79/127 in, between 23 19/32 and 23 20/32
    assert size(600 * MILLIMETRE.inches, Fraction(96), INCH) == "23 19/32 x 96 in"


@given(LENGTHS, LENGTHS, st.sampled_from([INCH, MILLIMETRE]))
def test_it_is_never_told_larger_than_it_is(width: Fraction, length: Fraction, unit: Unit) -> None:
    across, along = sides(width, length, unit).split(" x ")
    assert parse(across, unit) <= width
    assert parse(along, unit) <= length
