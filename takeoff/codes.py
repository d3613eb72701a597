"""The least gauge that published tables allow for a size of duct.

The tables are `data/codes.csv`, each line with its source; `data/editions.csv` names the editions.
Editions contradict each other and states adopt different ones, so the edition is always chosen,
never guessed. No table here is a permit: the local code and a licensed contractor decide.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Literal

from takeoff.lengths import Length
from takeoff.materials import material

Shape = Literal["round", "rectangular"]

ANY = "any"
"""In a column of conditions: the row holds under each."""

NO_EDITION = "none"
"""The name by which a shop chooses no table at all."""


@dataclass(frozen=True)
class Row:
    """One line of a table: sizes up to a limit under some conditions, and the least gauge.

    Attributes:
        edition: short name of the table.
        shape: of the duct.
        place: "enclosed", "exposed" or "any".
        pressure: in w.g. that it holds up to, as it is written: "0.5", "1"; or "any".
        below: sizes under this (in); None where `up_to` limits them or nothing does.
        up_to: sizes up to this and with it (in); None likewise.
        material: the metal's name as `takeoff.materials` writes it.
        thickness: as the table prints it (in); None where it prints gauges only.
        gauge: the least.
        source: where the line is from.
    """

    edition: str
    shape: Shape
    place: str
    pressure: str
    below: Fraction | None
    up_to: Fraction | None
    material: str
    thickness: Fraction | None
    gauge: int
    source: str

    def holds_for(self, size: Length) -> bool:
        """Whether the size (in) is within its limit."""
        if self.below is not None:
            return size < self.below
        return self.up_to is None or size <= self.up_to


@dataclass(frozen=True)
class Conditions:
    """Which table is asked, and for what duct.

    Attributes:
        edition: a name in `editions()`, or `NO_EDITION`.
        pressure: "0.5" or "1", in w.g.; counts in tables that tell them apart.
        place: "enclosed" or "exposed"; counts likewise.
    """

    edition: str
    pressure: str
    place: str

    @property
    def label(self) -> str:
        """The edition as the papers name it, with the conditions that it tells apart."""
        rows = [row for row in _table() if row.edition == self.edition]
        told = [editions().get(self.edition, "no code table")]
        if any(row.pressure != ANY for row in rows):
            told.append(f"{self.pressure} in w.g.")
        if any(row.place != ANY for row in rows):
            told.append(f"{self.place} duct")
        return "; ".join(told)


@cache
def editions() -> Mapping[str, str]:
    """Every edition by its short name, with what it is called."""
    return MappingProxyType({row["edition"]: row["label"] for row in _lines("editions.csv")})


def rows(metal: str, shape: Shape, conditions: Conditions) -> tuple[Row, ...]:
    """The lines that hold under the conditions, small sizes first; none where it has none."""
    name = material(metal)
    return tuple(
        row
        for row in _table()
        if (row.edition, row.material, row.shape) == (conditions.edition, name, shape)
        and row.pressure in (ANY, conditions.pressure)
        and row.place in (ANY, conditions.place)
    )


def least(metal: str, shape: Shape, size: Length, conditions: Conditions) -> Row | None:
    """The line for a size of duct, None where the table has none.

    Args:
        metal: any name of the metal. UnknownMaterial for a stranger.
        shape: of the duct.
        size: diameter, or the larger side (in).
        conditions: which table, and for what duct.
    """
    return next((row for row in rows(metal, shape, conditions) if row.holds_for(size)), None)


@cache
def _table() -> tuple[Row, ...]:
    return tuple(_row(line) for line in _lines("codes.csv"))


def _row(line: Mapping[str, str]) -> Row:
    shape: Shape = "round" if line["shape"] == "round" else "rectangular"
    return Row(
        line["edition"],
        shape,
        line["place"],
        line["pressure_in_wg"],
        _limit(line["below_in"]),
        _limit(line["up_to_in"]),
        line["material"],
        _limit(line["thickness_in"]),
        int(line["gauge"]),
        line["source"],
    )


def _limit(cell: str) -> Fraction | None:
    return Fraction(cell) if cell else None


def _lines(file: str) -> list[dict[str, str]]:
    text = files("takeoff").joinpath("data", file).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))
