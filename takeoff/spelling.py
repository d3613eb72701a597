"""Lengths as text that reads back exactly: for files, where `takeoff.lengths.show` may round."""

from __future__ import annotations

from fractions import Fraction

from takeoff.lengths import INCH, MILLIMETRE, Unit, show

FINEST = 64
"""Part of an inch to which a length is written as a tape reads it."""


def spelled(value: Fraction, unit: Unit) -> str:
    """A length (in) as the shortest usual text that `parse_signed` reads back in that unit.

    Never a bare fraction such as 1/2, of which a spreadsheet makes a date.
    """
    sign, size = ("-", -value) if value < 0 else ("", value)
    if unit == INCH and FINEST % size.denominator == 0 and (size >= 1 or size == 0):
        return sign + show(size, INCH, FINEST)
    other = MILLIMETRE if unit == INCH else INCH
    for each, mark in ((unit, ""), (other, f" {other.name}")):
        if (digits := _decimal(size / each.inches)) is not None:
            return f"{sign}{digits}{mark}"
    whole, part = divmod(size, 1)
    return f"{sign}{whole} {part} in" if whole else f"{sign}{part} in"


def _decimal(number: Fraction) -> str | None:
    """A number of 0 or more with all its decimals; None where they never end."""
    rest, places = number.denominator, 0
    for factor in (2, 5):
        power = 0
        while rest % factor == 0:
            rest //= factor
            power += 1
        places = max(places, power)
    if rest != 1:
        return None
    digits = str(number.numerator * 10**places // number.denominator).rjust(places + 1, "0")
    return f"{digits[:-places]}.{digits[-places:]}" if places else digits
