"""Lengths as a tape reads them: text to exact inches, back to text, and onto the cutting grid.

Lengths are inches everywhere inside. Straight-line work keeps them as `Fraction`, so that a
sixteenth stays a sixteenth; a float appears only where geometry is irrational (an arc, a slant).
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from functools import lru_cache
from numbers import Integral

from takeoff.errors import InvalidLength

Length = Fraction | float
"""Inches: exact where the geometry allows, a float where it is irrational."""


@dataclass(frozen=True)
class Unit:
    """A unit that bare numbers are read and shown in.

    Attributes:
        name: "in" or "mm".
        inches: what one of it is in inches, exactly.
    """

    name: str
    inches: Fraction


INCH = Unit("in", Fraction(1))
MILLIMETRE = Unit("mm", Fraction(5, 127))  # 1 in is 25.4 mm exactly, by definition (1959)
UNITS = {unit.name: unit for unit in (INCH, MILLIMETRE)}


@dataclass(frozen=True)
class Grid:
    """The steps that blank sizes are counted in.

    Attributes:
        per_inch: steps in an inch, more than 0.
    """

    per_inch: Fraction

    def __post_init__(self) -> None:
        if self.per_inch <= 0:
            raise ValueError(f"a grid needs more than 0 steps in an inch, not {self.per_inch}")


SIXTY_FOURTHS = Grid(Fraction(64))
TENTH_MILLIMETRES = Grid(Fraction(254))
GRIDS = {INCH: SIXTY_FOURTHS, MILLIMETRE: TENTH_MILLIMETRES}

FLOAT_SLACK = Fraction(1, 1_000_000)
"""Part of a grid step that a float may lie above the grid and still be taken as on it."""

MOST_SHOWN = 4000
"""Lengths whose words are kept: a drawing that is tried in several sizes tells the same ones."""

FLOAT_DIGITS = 15
"""Significant digits of a spreadsheet number: all that is typed, none of its arithmetic dust."""

ACCEPTED = "17 1/2, 17-1/2, 17.5, 1' 5-1/2\", 5', 445mm, 44.5cm or 1.2m"
"""The forms shown to a person whose value could not be read."""


_METRIC_INCHES = {"mm": Fraction(5, 127), "cm": Fraction(50, 127), "m": Fraction(5000, 127)}
_SAME_MARK = str.maketrans(
    {
        **dict.fromkeys("‘’′‵´`ʹ", "'"),
        **dict.fromkeys("“”″‶˝ʺ", '"'),
        **dict.fromkeys("‐‑‒–—―−", "-"),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("\u200b\u2060\ufeff", None),  # marks without width, left by copying
    }
)
_LONGEST_TEXT = 40
_DECIMAL = r"\d+\.\d+|\d+\.|\.\d+|\d+"
_FEET = re.compile(
    rf"(?P<feet>{_DECIMAL}) ?(?:'|ft\.?|foot|feet)(?:(?: ?- ?| ?)(?P<inches>[\d.].*))?", re.ASCII
)
_INCHES = re.compile(
    rf"(?:(?P<decimal>{_DECIMAL})|(?:(?P<whole>\d+)(?: ?- ?| ))?(?P<top>\d+)/(?P<bottom>\d+))"
    r' ?(?P<mark>"|in\.?|inch|inches)?',
    re.ASCII,
)
_METRIC = re.compile(rf"(?P<number>{_DECIMAL}) ?(?P<unit>mm|cm|m)\.?", re.ASCII)
_DATE = re.compile(r"\d{1,2}[- ][a-z]{3,9}|[a-z]{3,9}[- ]\d{1,2}|\d+[-/]\d+[-/]\d+", re.ASCII)


def parse(text: str | int | float | Fraction, unit: Unit = INCH) -> Fraction:
    """The length that a text or a spreadsheet cell says, 0 or more, in inches, exactly.

    Args:
        text: tape notation, a metric length or a number. A float is read as the decimal a
            spreadsheet shows for it, so 0.1 is exactly one tenth.
        unit: what a number without a unit of its own is measured in.

    Raises:
        InvalidLength: not a length, or one below 0; the message shows the accepted forms.
    """
    value = parse_signed(text, unit)
    if value < 0:
        raise InvalidLength(text, "it is below 0.")
    return value


def parse_signed(text: str | int | float | Fraction, unit: Unit = INCH) -> Fraction:
    """As `parse`, with a minus sign in front allowed: an offset to the left or downwards."""
    if isinstance(text, str):
        plain = _normal(text)
        sign, size = (-1, plain[1:].lstrip()) if plain.startswith("-") else (1, plain)
        return sign * _read(size, unit, text)
    return _number(text) * unit.inches


def _number(value: object) -> Fraction:
    """A cell that is no text, as an exact number."""
    if isinstance(value, date | time):
        raise InvalidLength(
            value,
            "the spreadsheet has made a date of it. Format the cell as text and write it again.",
        )
    if isinstance(value, bool):  # Python counts it among the integers, a tape does not
        raise InvalidLength(value, f"write it as {ACCEPTED}.")
    if isinstance(value, Fraction):
        return value
    if isinstance(value, Integral):
        return Fraction(int(value))
    if isinstance(value, float) and math.isfinite(value):
        return Fraction(f"{value:.{FLOAT_DIGITS}g}")
    raise InvalidLength(value, f"write it as {ACCEPTED}.")


def _normal(text: str) -> str:
    """The text in small letters with plain marks, single spaces and fractions spelled n/d."""
    spelled = "".join(
        f" {unicodedata.normalize('NFKC', char)}"
        if unicodedata.decomposition(char).startswith("<fraction>")
        else char
        for char in text
    )
    plain = " ".join(spelled.translate(_SAME_MARK).casefold().replace("''", '"').split())
    return re.sub(" ?/ ?", "/", plain.translate(_SAME_MARK))


def _read(plain: str, unit: Unit, text: str) -> Fraction:
    """The length that a normal text says; `text` is what the person wrote."""
    if len(plain) <= _LONGEST_TEXT:
        if found := _METRIC.fullmatch(plain):
            return Fraction(found["number"]) * _METRIC_INCHES[found["unit"]]
        if found := _FEET.fullmatch(plain):
            return _feet_and_inches(found["feet"], found["inches"], text)
        if found := _INCHES.fullmatch(plain):
            return _inches_or_unit(found, unit, text)
    raise InvalidLength(text, _advice(plain))


def _feet_and_inches(feet: str, rest: str | None, text: str) -> Fraction:
    """Feet with the inches that may stand beside them."""
    if rest is None:
        return Fraction(feet) * 12
    found = _INCHES.fullmatch(rest)
    if found is None or not feet.isdigit():
        raise InvalidLength(text, _advice(""))
    inches = _inches_or_unit(found, INCH, text)
    if inches >= 12:
        raise InvalidLength(text, "the inches beside feet must be less than 12.")
    return int(feet) * 12 + inches


def _inches_or_unit(found: re.Match[str], unit: Unit, text: str) -> Fraction:
    """A decimal or a fraction, in inches where it carries their mark, else in the unit."""
    if found["decimal"] is not None:
        return Fraction(found["decimal"]) * (1 if found["mark"] else unit.inches)
    top, bottom = int(found["top"]), int(found["bottom"])
    if top >= bottom:
        raise InvalidLength(
            text,
            f"{top}/{bottom} is not a part of an inch. "
            "Leave a space between the inches and the fraction: 17 1/2.",
        )
    if unit != INCH and not found["mark"]:
        raise InvalidLength(
            text, "a metric length has no fraction. Write 445, 44.5cm, or with its mark 17 1/2 in."
        )
    return int(found["whole"] or 0) + Fraction(top, bottom)


def _advice(plain: str) -> str:
    """What to tell about a text that is none of the accepted forms."""
    if not plain:
        return f"write it as {ACCEPTED}."
    if "," in plain:
        return "a comma can be read in two ways. Write a decimal with a point, thousands without."
    if _DATE.fullmatch(plain):
        return "it looks like a date. Format the cell as text and write it again, such as 17 1/2."
    return f"write it as {ACCEPTED}."


def rounded(value: Length, unit: Unit = INCH, denominator: int = 16) -> Fraction:
    """The length, in inches, that `show` prints for the value: equal to it if nothing was lost.

    Args:
        value: inches.
        unit: inches round to the nearest 1/denominator, millimetres to the nearest tenth; a
            length half way goes up.
        denominator: the finest part of an inch; of no effect on millimetres.
    """
    step = _step(unit, denominator)
    return math.floor(Fraction(value) / step + Fraction(1, 2)) * step


def show(value: Length, unit: Unit = INCH, denominator: int = 16) -> str:
    """The value as a tape reads it: `17 1/2`, `23/32`, or in millimetres `445`, `444.5`.

    Args:
        value: inches.
        unit: the unit to show it in; it is not printed (see `show_with_unit`).
        denominator: see `rounded`.
    """
    shown = rounded(value, unit, denominator) / unit.inches
    sign, size = ("-", -shown) if shown < 0 else ("", shown)
    whole, part = divmod(size, 1)
    if not part:
        return f"{sign}{whole}"
    if unit == MILLIMETRE:
        return f"{sign}{whole}.{part * 10}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def show_with_unit(value: Length, unit: Unit = INCH, denominator: int = 16) -> str:
    """As `show`, with the unit behind it: `17 1/2 in`, `445 mm`."""
    return f"{show(value, unit, denominator)} {unit.name}"


@lru_cache(maxsize=MOST_SHOWN, typed=True)  # a float may be taken as the step beside it
def show_exactly(value: Length, unit: Unit = INCH) -> str:
    """The value to the coarsest of 1/16, 1/32 and 1/64 in (or 1/10 mm) that is exact.

    A value between those is shown to the nearest 1/32 in (or 1/10 mm) with `~` in front. A float
    is exact where it is within `FLOAT_SLACK` of a grid step.
    """
    for denominator in (16, 32, 64):
        if _same(value, rounded(value, unit, denominator), unit):
            return show(value, unit, denominator)
    return f"~{show(value, unit, 32)}"


def show_within(value: Length, unit: Unit = INCH) -> str:
    """As `show_exactly`, but a value between steps is shown as the step below, without a sign.

    For metal that is there: what is told of it is never more than it has.
    """
    told = show_exactly(value, unit)
    if not told.startswith("~"):
        return told
    step = _step(unit, 32)
    return show(math.floor(Fraction(value) / step) * step, unit, 32)


def to_grid(value: Length, grid: Grid) -> int:
    """Grid steps that hold the value (inches): rounded up, never down.

    A Fraction is taken exactly; a float may lie `FLOAT_SLACK` of a step above the grid.
    """
    slack = FLOAT_SLACK if isinstance(value, float) else 0
    return math.ceil(Fraction(value) * grid.per_inch - slack)


def from_grid(steps: int, grid: Grid) -> Fraction:
    """Inches in that many grid steps, exactly."""
    return steps / grid.per_inch


def _step(unit: Unit, denominator: int) -> Fraction:
    """The step lengths are shown in, inches."""
    return unit.inches / 10 if unit == MILLIMETRE else Fraction(1, denominator)


def _same(value: Length, other: Fraction, unit: Unit) -> bool:
    """Whether two lengths are equal, or so near that only float arithmetic parts them."""
    if isinstance(value, float):
        return abs(Fraction(value) - other) * GRIDS[unit].per_inch <= FLOAT_SLACK
    return value == other
