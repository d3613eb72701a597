"""How the stock room writes sizes, money and labels down: integers, so that nothing is rounded."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import NoReturn

from takeoff.lengths import INCH, show_exactly
from takeoff.metal_lists import LONGEST_SHEET
from takeoff.spelling import spelled

from .errors import NotThere, Unkeepable

STEPS_PER_INCH = 1_016_000
"""Least common multiple of 64, 1000 and 25,400: holds 1/64 in, 1/1000 in and 1/1000 mm."""

PARTS_OF_MONEY = 10_000
"""A price is kept to the hundredth of a cent."""

DEAREST_SHEET = 1_000_000
MOST_SHEETS = 1_000_000
LONGEST_TEXT = 10_000

_LABEL = re.compile(r"R-([0-9]{6}|[1-9][0-9]{6,8})", re.ASCII)


def to_steps(size: Fraction, what: str = "size") -> int:
    """A side in inches, in steps. Raises Unkeepable: none, too long, or between two steps."""
    if not 0 < size <= LONGEST_SHEET:
        _refuse_side(size, what)
    steps = size * STEPS_PER_INCH
    if steps.denominator != 1:
        raise Unkeepable(
            what,
            f"{size} in",
            "is finer than the stock room keeps",
            "Give a whole number of 1/64 in, 1/1000 in or 1/1000 mm.",
        )
    return int(steps)


def down_to_steps(size: Fraction, what: str = "size") -> int:
    """As `to_steps`, but a size between two steps is the smaller: metal that is surely there."""
    steps = size.numerator * STEPS_PER_INCH // size.denominator
    if not 0 < steps <= LONGEST_SHEET * STEPS_PER_INCH:
        _refuse_side(size, what)
    return steps


def from_steps(steps: int) -> Fraction:
    """Inches in that many steps, exactly."""
    return Fraction(steps, STEPS_PER_INCH)


def sides(width: Fraction, length: Fraction) -> str:
    """Both, so that no two sizes read alike: `48 in x 96 in`, `48.01 in x 96 in`."""
    told = (spelled(side, INCH) for side in (width, length))
    return " x ".join(text if text.endswith((" in", " mm")) else f"{text} in" for text in told)


def to_parts(price: Decimal) -> int:
    """A price in parts. Raises Unkeepable: below 0, too much, or finer than a part."""
    if not price.is_finite() or not 0 <= price <= DEAREST_SHEET:
        allowed = f"Give 0 to {DEAREST_SHEET}."
        raise Unkeepable("cost", price, "is no price of a sheet", allowed)
    parts = price * PARTS_OF_MONEY
    if parts != int(parts) or (price and not parts):  # so small that it vanishes
        allowed = "Give four decimals, or fewer."
        raise Unkeepable("cost", price, "is finer than a hundredth of a cent", allowed)
    return int(parts)


def count(sheets: int) -> int:
    """A count of sheets as it is. Raises Unkeepable: below 0, or too many."""
    if not 0 <= sheets <= MOST_SHEETS:
        raise Unkeepable("qty", sheets, "is no count of sheets", f"Give 0 to {MOST_SHEETS}.")
    return sheets


def from_parts(parts: int) -> Decimal:
    """The price in that many parts, with no fewer than two decimals."""
    price = (Decimal(parts) / PARTS_OF_MONEY).quantize(Decimal("0.0001"))
    cents = price.quantize(Decimal("0.01"))
    return cents if cents == price else price


def label(number: int) -> str:
    """What is written on an offcut of that number: `R-000123`."""
    return f"R-{number:06d}"


def tidy(text: str) -> str:
    """A label as it is written here, however it is typed."""
    return text.strip().upper()


def number(text: str) -> int:
    """The number of a label, however it is typed: `R-000123`. Raises NotThere."""
    found = _LABEL.fullmatch(tidy(text))
    if found is None:
        raise NotThere(f'"{text}" is not a label of an offcut: give one such as R-000123.')
    return int(found[1])


def text(value: str, what: str = "text") -> str:
    """The text as it is. Raises Unkeepable: it holds what no database keeps."""
    if "\0" in value or any("\ud800" <= char <= "\udfff" for char in value):
        shown = value.replace("\0", "?").encode(errors="replace").decode()
        raise Unkeepable(what, shown, "holds a character that cannot be kept", "Write it anew.")
    if len(value) > LONGEST_TEXT:
        allowed = f"Give up to {LONGEST_TEXT} characters."
        raise Unkeepable(what, value, "is too long", allowed)
    return value


def name(value: str, what: str = "name") -> str:
    """As `text`, and not blank."""
    if not value.strip():
        raise Unkeepable(what, "", "is no name", "Write something.")
    return text(value, what)


def _refuse_side(size: Fraction, what: str) -> NoReturn:
    shown = f"{show_exactly(size)} in"
    allowed = f"Give more than 0, up to {LONGEST_SHEET} in."
    raise Unkeepable(what, shown, "is no side of a sheet", allowed)
