"""Shops and fittings for the tests of the families."""

from collections.abc import Mapping
from fractions import Fraction

from takeoff.fittings import Fitting, Made, Shop, find
from takeoff.lengths import INCH, Length, Unit
from takeoff.materials import sheet
from takeoff.pattern.facets import Piece
from takeoff.pattern.outline import outline
from takeoff.profile import default, loads

STANDARD_SHEETS = ((36, 96), (48, 96), (48, 120), (60, 120))


def shop(
    toml: str = "", gauge: int = 26, sheets: tuple[tuple[int, int], ...] = STANDARD_SHEETS
) -> Shop:
    """A shop with the default profile, or one that differs as the TOML says."""
    sizes = tuple((Fraction(w), Fraction(n)) for w, n in sheets)
    return Shop(loads(toml) if toml else default(), sheet("galvanized", gauge), sizes)


def card(kind: str, unit: Unit = INCH, **cells: object) -> Fitting:
    """A fitting from cells as they stand in a job list."""
    return find(kind).model_validate(cells, context={"unit": unit})


def made(kind: str, toml: str = "", **cells: object) -> Made:
    """A fitting taken apart in the default shop."""
    return card(kind, **cells).make(shop(toml))


def sizes(pieces: tuple[Piece, ...]) -> dict[str, tuple[Length, Length]]:
    """Width and length of the blanks by piece name; the last of equal names."""
    return {p.name: (outline(p).width, outline(p).length) for p in pieces}


def example_card(family: type[Fitting], cells: Mapping[str, str]) -> Fitting:
    """One of a family's own examples."""
    return family.model_validate(dict(cells), context={"unit": INCH})
