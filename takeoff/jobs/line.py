"""One row of a job list to a line of the job, or to all that is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from pydantic import ValidationError

from takeoff.advice import NoGauge, choose
from takeoff.errors import Fault, UnknownMaterial, nearest
from takeoff.faults import from_validation
from takeoff.fittings import Fitting, UnknownFitting, find
from takeoff.lengths import Unit
from takeoff.limits import allowed
from takeoff.materials import MATERIALS, SheetMetal, gauges, material, sheet
from takeoff.settings import Code

from .columns import FIXED, owners
from .heading import Heading
from .job import JobLine

USUAL_MATERIAL = "galvanized"
MOST_COPIES = 10_000
LONGEST_MARK = 40
MOST_AIR = 100_000
"""Cubic feet per minute of one row; more is a slip of the pen."""

AUTO = "auto"
"""Leaves the gauge to the code table."""

_WHOLE = re.compile(r"(\d{1,9})(?:\.0*)?", re.ASCII)
_GAUGE = re.compile(r"(?:(?:ga\.?|gauge) ?)?(\d{1,3})(?:\.0*)?(?: ?(?:ga\.?|gauge))?", re.ASCII)
_AIR = re.compile(r"(\d{1,3}(?:,\d{3})+|\d{1,9})(\.\d+)?(?: ?cfm)?(?: (supply|return))?", re.ASCII)


@dataclass
class Row:
    """A row being read.

    Attributes:
        number: as a spreadsheet counts it.
        cells: what stands in it by column; blank ones are left out.
        heading: of the list.
        faults: what is wrong with it so far, one a column.
    """

    number: int
    cells: Mapping[str, str]
    heading: Heading
    faults: list[Fault] = field(default_factory=list)

    def cell(self, name: str) -> str:
        """What stands in a column, "" for nothing."""
        return self.cells.get(name, "")

    def add(self, fault: Fault) -> None:
        """Note a fault, unless its column has one already."""
        if fault.column is None or fault.column not in {each.column for each in self.faults}:
            self.faults.append(fault)

    def refuse(self, name: str, problem: str, advice: str) -> None:
        """Note what is wrong with the cell of a column."""
        self.add(Fault(self.number, self.heading.title(name), self.cell(name), problem, advice))


def read_line(row: Row, unit: Unit, code: Code, first_with: dict[str, int]) -> JobLine | None:
    """The line that a row says, or None and the faults in `row.faults`.

    Args:
        row: the row; its faults are added to.
        unit: of bare numbers.
        code: table that a gauge left to it is taken from.
        first_with: the row that each mark stood in first; entered here.
    """
    _check_mark(row, first_with)
    fitting = _fitting(row, unit)
    qty = _qty(row)
    metal = _metal(row, fitting, unit, code)
    cfm, side = _air(row)
    if row.faults or fitting is None or qty is None or metal is None:
        return None
    return JobLine(
        row.number,
        row.cell("mark"),
        fitting,
        qty,
        metal,
        row.cell("note"),
        cfm,
        side,
        _is_auto(row),
    )


def _check_mark(row: Row, first_with: dict[str, int]) -> None:
    mark = row.cell("mark")
    if not mark:
        row.refuse("mark", "is no mark", "Give each row a name of its own, such as D1.")
    elif len(mark) > LONGEST_MARK:
        row.refuse("mark", f"is longer than {LONGEST_MARK} letters", "Give a short name.")
    elif (first := first_with.setdefault(mark.casefold(), row.number)) != row.number:
        row.refuse("mark", f"is the mark of row {first} too", "Give each row its own.")


def _qty(row: Row) -> int | None:
    words = row.cell("qty")
    if not words:
        return 1
    found = _WHOLE.fullmatch(words)
    if found and 1 <= int(found[1]) <= MOST_COPIES:
        return int(found[1])
    problem = f"is not a whole number from 1 to {MOST_COPIES}"
    row.refuse("qty", problem, "Give how many alike; a blank is 1.")
    return None


def _air(row: Row) -> tuple[float | None, Literal["supply", "return"] | None]:
    """How much air, and on which side of the air handler, as far as the cell tells."""
    words = row.cell("cfm")
    if not words:
        return None, None
    found = _AIR.fullmatch(words.casefold())
    cfm = float(found[1].replace(",", "") + (found[2] or "")) if found else 0.0
    if not found or not 0 < cfm <= MOST_AIR:
        advice = "Give cubic feet per minute, such as 1200 or 1200 return; a blank is unknown."
        row.refuse("cfm", f"is not an amount of air of more than 0, up to {MOST_AIR}", advice)
        return None, None
    side = found[3]
    return cfm, "supply" if side == "supply" else "return" if side else None


def _is_auto(row: Row) -> bool:
    return row.cell("gauge").casefold() == AUTO


def _metal(row: Row, fitting: Fitting | None, unit: Unit, code: Code) -> SheetMetal | None:
    found = _GAUGE.fullmatch(row.cell("gauge").casefold())
    try:
        metal = material(row.cell("material") or USUAL_MATERIAL)
    except UnknownMaterial:
        advice = nearest(row.cell("material"), MATERIALS)
        row.refuse("material", "is not a metal known here", advice)
        if not found and not _is_auto(row):
            row.refuse("gauge", "is not a gauge", "Give its number, such as 26.")
        return None
    if _is_auto(row):
        return _by_table(row, fitting, metal, unit, code)
    known = gauges(metal)
    if found and int(found[1]) in known:
        return sheet(metal, int(found[1]))
    listed = ", ".join(map(str, known))
    row.refuse("gauge", f"is not a gauge of {metal}", f"Give one of {listed}, or {AUTO}.")
    return None


def _by_table(
    row: Row, fitting: Fitting | None, metal: str, unit: Unit, code: Code
) -> SheetMetal | None:
    if fitting is None:  # its own faults are told
        return None
    try:
        return sheet(metal, choose(fitting, metal, code, unit))
    except NoGauge as error:
        row.refuse("gauge", f"finds no gauge: {error.problem}", error.allowed)
        return None


def _fitting(row: Row, unit: Unit) -> Fitting | None:
    words = row.cell("fitting")
    if not words:
        row.refuse("fitting", "is no fitting", "Give its name; the command fittings lists all.")
        return None
    try:
        family = find(words)
    except UnknownFitting as error:
        row.refuse("fitting", "is not a fitting known here", error.advice)
        return None
    cells = {name: cell for name, cell in row.cells.items() if name not in FIXED}
    for name in [each for each in cells if each not in family.model_fields]:
        have = ", ".join(owners(name))
        problem = f"is given, but {family.kind} has no {name}"
        row.refuse(name, problem, f"Take it out. Fittings that have it: {have}.")
    own = {name: cell for name, cell in cells.items() if name in family.model_fields}
    return _card(row, family, own, unit)


def _card(row: Row, family: type[Fitting], cells: Mapping[str, str], unit: Unit) -> Fitting | None:
    """The fitting's card filled in."""
    for name, about in family.model_fields.items():
        if about.is_required() and name not in cells:
            wanted = allowed(about, unit) or "a value"
            row.refuse(name, f"will not do: {family.kind} needs it", f"Give {wanted}.")
    try:
        return family.model_validate(cells, context={"unit": unit})
    except ValidationError as error:
        for fault in from_validation(error, family, row.number, unit):
            if fault.column is not None:  # without one it tells what is missing, as above
                row.add(_placed(row, fault))
    return None


def _placed(row: Row, fault: Fault) -> Fault:
    """The fault under the title of its column, with the value as it is typed."""
    name = (fault.column or "").partition(".")[0]
    value = row.cell(name) or fault.value
    return replace(fault, column=row.heading.title(name) or None, value=value)
