"""Sheets and offcuts as they are typed: the fields, and what is wrong with what stands in them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from takeoff.errors import Fault
from takeoff.materials import MATERIALS, gauges

from .fields import FormField, Kind, sentence


@dataclass(frozen=True)
class Column:
    """A field of the form.

    Attributes:
        name: of the column that the reader of lists knows.
        label: for a person.
        kind: how it is filled in.
        about: what it is.
        usual: what a blank means.
        needed: whether it must be filled in.
        start: what stands in it at first.
    """

    name: str
    label: str
    kind: Kind
    about: str = ""
    usual: str = ""
    needed: bool = False
    start: str = ""


METAL = Column("material", "Metal", "choice", needed=True, start=next(iter(MATERIALS)))
GAUGE = Column("gauge", "Gauge", "choice", needed=True)
WIDTH = Column("width", "Width", "length", "Across the grain, as the tape reads it.", needed=True)
LENGTH = Column("length", "Length", "length", "Along the grain.", needed=True)


def fields(
    columns: Sequence[Column], cells: Mapping[str, str], faults: Sequence[Fault] = ()
) -> tuple[tuple[FormField, ...], list[tuple[str, str]]]:
    """The fields with what stands in them and what is wrong; and the faults of no field."""
    names = {column.name for column in columns}
    found = tuple(
        FormField(
            name=column.name,
            label=column.label,
            kind=column.kind,
            value=cells.get(column.name, column.start),
            about=column.about,
            usual=column.usual,
            needed=column.needed,
            options=_options(column.name, cells.get(column.name, column.start)),
            faults=tuple(sentence(fault) for fault in faults if fault.column == column.name),
        )
        for column in columns
    )
    return found, [(str(fault), "") for fault in faults if fault.column not in names]


def _options(name: str, value: str) -> tuple[str, ...]:
    known: dict[str, tuple[str, ...]] = {
        "material": tuple(MATERIALS),
        "gauge": tuple(map(str, sorted({each for metal in MATERIALS for each in gauges(metal)}))),
    }
    options = known.get(name, ())
    return (*options, value) if options and value and value not in options else options
