"""Lists of metal as CSV: what their rows share, and how they are read with all their faults."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Annotated, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    PlainValidator,
    ValidationError,
    ValidationInfo,
)

from takeoff.errors import (
    CONTROLS,
    NOT_PRINTED,
    Fault,
    StockFault,
    UnknownMaterial,
    nearest,
    printable,
)
from takeoff.faults import from_validation, refuse
from takeoff.lengths import INCH, parse
from takeoff.materials import MATERIALS, gauges, material

LONGEST_SHEET = 600
"""Inches; a sheet with a side above 50 feet is a slip of the pen or of the unit."""

R = TypeVar("R", bound="MetalRow")


def blank_is_none(value: object) -> object:
    """None for an empty cell."""
    return None if value == "" else value


def _metal(value: str) -> str:
    try:
        return material(value)
    except UnknownMaterial as error:
        raise refuse("is not a metal known here", nearest(value, MATERIALS)) from error


def _side(value: str, info: ValidationInfo) -> Fraction:
    """A side of a sheet, in the unit of the context."""
    side = parse(value, (info.context or {}).get("unit", INCH))
    if not 0 < side <= LONGEST_SHEET:
        problem = "is not more than 0" if side <= 0 else f"is more than {LONGEST_SHEET} in"
        raise refuse(problem, f"Give more than 0, up to {LONGEST_SHEET} in.")
    return side


Side = Annotated[Fraction, PlainValidator(_side)]
"""A side of a sheet or an offcut, inches."""


class MetalRow(BaseModel):
    """A row of a list, each cell by itself: what every list has."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    material: Annotated[str, AfterValidator(_metal)]
    gauge: int


def read_text(path: Path, what: str = "the stock list") -> str:
    """The text of a list in a file. Raises StockFault: it cannot be read."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise _unreadable(path.name, what, error.strerror or str(error)) from error
    except UnicodeDecodeError as error:
        raise _unreadable(path.name, what, "it is not UTF-8 text") from error


def read_rows(
    text: str,
    kind: type[R],
    context: dict[str, object],
    source: str,
    what: str = "the stock list",
) -> tuple[list[tuple[int, R]], list[Fault]]:
    """The sound rows of a list with their numbers, and the faults of the others.

    Args:
        text: of the list, CSV.
        kind: what a row must be.
        context: of the validation; the whole list shares it.
        source: the file's name, for the errors.
        what: the list is called.

    Raises:
        StockFault: no row can be read.
    """
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as error:
        raise _unreadable(source, what, f"it is not CSV: {error}", kind) from error
    filled = [(number, line) for number, line in enumerate(lines, 1) if any(map(str.strip, line))]
    if len(filled) < 2:
        raise _unreadable(source, what, "it has no rows below its headings", kind)
    (heading_row, first), *rows = filled
    headings = [heading.strip().casefold() for heading in first]
    if faults := list(_heading_faults(heading_row, headings, kind)):
        raise StockFault(faults, source)
    sound: list[tuple[int, R]] = []
    for number, line in rows:
        found = _checked(number, headings, line, kind, context)
        if isinstance(found, kind):
            sound.append((number, found))
        elif isinstance(found, tuple):
            faults += found
    return sound, faults


def metal_fault(row: MetalRow, number: int | None = None) -> Fault | None:
    """What is wrong with the gauge of a metal, if anything."""
    known = gauges(row.material)
    if row.gauge in known:
        return None
    listed = ", ".join(map(str, known))
    problem = f"is not a gauge of {row.material}"
    return Fault(number, "gauge", str(row.gauge), problem, f"Give one of {listed}.")


def _heading_faults(row: int, headings: Sequence[str], kind: type[MetalRow]) -> Iterator[Fault]:
    """Headings that are unknown, there twice, or not there."""
    for name in dict.fromkeys(headings):
        if name not in kind.model_fields:
            yield Fault(row, None, name, "is not a column here", nearest(name, kind.model_fields))
        elif headings.count(name) > 1:
            yield Fault(row, None, name, "is there twice", "Keep one column of the name.")
    for name, field in kind.model_fields.items():
        if field.is_required() and name not in headings:
            yield Fault(row, None, name, "is not among the columns", "Add the column.")


def _checked(
    number: int,
    headings: Sequence[str],
    line: Sequence[str],
    kind: type[R],
    context: dict[str, object],
) -> R | tuple[Fault, ...]:
    """One row, or what is wrong with it."""
    if beyond := [cell for cell in line[len(headings) :] if cell.strip()]:
        return (Fault(number, None, beyond[0], "is beyond the last column", "Take it out."),)
    cells = dict.fromkeys(headings, "") | dict(zip(headings, map(str.strip, line), strict=False))
    return checked(cells, kind, context, number)


def checked(
    cells: Mapping[str, object],
    kind: type[R],
    context: dict[str, object],
    number: int | None = None,
) -> R | tuple[Fault, ...]:
    """A row from its cells, or what is wrong with it."""
    if unprinted := tuple(_unprinted(cells, number)):
        named = {fault.column for fault in unprinted}
        rest = {name: _without_controls(cell) for name, cell in cells.items()}
        found = checked(rest, kind, context, number)
        others = found if isinstance(found, tuple) else ()
        return (*unprinted, *(fault for fault in others if fault.column not in named))
    try:
        row = kind.model_validate(cells, context=context)
    except ValidationError as error:
        return from_validation(error, kind, number)
    fault = metal_fault(row, number)
    return row if fault is None else (fault,)


def _unprinted(cells: Mapping[str, object], number: int | None) -> Iterator[Fault]:
    """The cells in which something stands that would act on a screen or a paper."""
    for name, cell in cells.items():
        if isinstance(cell, str) and CONTROLS.search(cell):
            yield Fault(number, name, printable(cell), NOT_PRINTED, "Type the cell anew.")


def _without_controls(cell: object) -> object:
    return CONTROLS.sub("", cell) if isinstance(cell, str) else cell


def _unreadable(
    source: str, what: str, reason: str, kind: type[MetalRow] | None = None
) -> StockFault:
    advice = f"Columns: {', '.join(kind.model_fields)}." if kind else "Give a CSV file."
    return StockFault([Fault(None, None, what, f"cannot be read: {reason}", advice)], source)
