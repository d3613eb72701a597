"""Sheet metal by gauge number: how thick it is and what it weighs.

The tables are `data/metals.csv` and `data/gauges.csv`, each line with its source. The same number
is another thickness in another metal: galvanized sheet has its own gauge, plain steel and
stainless follow the US standard gauge, aluminium the Brown & Sharpe gauge.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from takeoff.errors import UnknownGauge, UnknownMaterial, nearest

SQUARE_INCHES_IN_A_SQUARE_FOOT = 144


@dataclass(frozen=True)
class SheetMetal:
    """One line of the gauge table.

    Attributes:
        material: the metal's name as this package writes it.
        gauge: its gauge number.
        thickness: nominal, inches, with the coating.
        weight: nominal, lb/ft2, with the coating.
        source: where the two come from.
    """

    material: str
    gauge: int
    thickness: Fraction
    weight: Fraction
    source: str

    @property
    def name(self) -> str:
        """How papers and messages call it: `galvanized 24 ga`."""
        return f"{self.material} {self.gauge} ga"


def material(name: str) -> str:
    """The metal that a person means: "galv" and "Galvanised" are "galvanized".

    Raises:
        UnknownMaterial: no metal goes by that name; the message names the nearest or all.
    """
    found = _names().get(_key(name))
    if found is None:
        raise UnknownMaterial(f'"{name}" is not a metal known here. {nearest(name, MATERIALS)}')
    return found


def gauges(metal: str) -> tuple[int, ...]:
    """The gauge numbers a metal comes in, thick to thin. Raises UnknownMaterial."""
    return tuple(_table()[material(metal)])


def sheet(metal: str, gauge: int) -> SheetMetal:
    """Thickness and weight of one gauge of one metal.

    Raises:
        UnknownMaterial: no metal goes by that name.
        UnknownGauge: the metal's table lacks the gauge; the message names those it has.
    """
    name = material(metal)
    lines = _table()[name]
    if gauge not in lines:
        listed = ", ".join(map(str, lines))
        raise UnknownGauge(f"{name} has no gauge {gauge}. Gauges: {listed}.")
    return lines[gauge]


def _key(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").replace("_", " ").split())


def _rows(file: str) -> list[dict[str, str]]:
    """The lines of a table that ships with the package."""
    text = files("takeoff").joinpath("data", file).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def _metals() -> Mapping[str, Mapping[str, str]]:
    return MappingProxyType({row["material"]: row for row in _rows("metals.csv")})


@cache
def _names() -> Mapping[str, str]:
    """Every way of writing a metal, to its name."""
    return MappingProxyType(
        {
            _key(alias): name
            for name, row in _metals().items()
            for alias in (name, *row["aliases"].split(";"))
        }
    )


@cache
def _table() -> Mapping[str, Mapping[int, SheetMetal]]:
    table: dict[str, dict[int, SheetMetal]] = {name: {} for name in _metals()}
    for row in _rows("gauges.csv"):
        line = _line(row)
        table[line.material][line.gauge] = line
    return MappingProxyType({name: MappingProxyType(lines) for name, lines in table.items()})


def _line(row: Mapping[str, str]) -> SheetMetal:
    """A row of the gauge table; a weight it leaves out is thickness times density."""
    metal = _metals()[row["material"]]
    thickness = Fraction(row["thickness_in"])
    if row["lb_per_ft2"]:
        weight, source = Fraction(row["lb_per_ft2"]), row["source"]
    else:
        density = Fraction(metal["lb_per_in3"])
        weight = thickness * SQUARE_INCHES_IN_A_SQUARE_FOOT * density
        source = f"{row['source']}; weight from {metal['lb_per_in3']} lb/in3, {metal['source']}"
    return SheetMetal(row["material"], int(row["gauge"]), thickness, weight, source)


MATERIALS = tuple(_metals())
"""The metals there are gauge tables for."""
