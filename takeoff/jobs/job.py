"""A job: the fittings of a job list, each read and checked."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from typing import Literal

from takeoff.fittings import Fitting
from takeoff.lengths import Unit
from takeoff.materials import SheetMetal


@dataclass(frozen=True)
class JobLine:
    """One row of a job list.

    Attributes:
        row: its row in the file, as a spreadsheet counts (the first row is row 1).
        mark: the fitting's name on the job, unique.
        fitting: its card.
        qty: how many alike.
        metal: what it is made of.
        note: what the person wrote beside it.
        cfm: of air through one of them, cubic feet per minute; None where the list tells none.
        air_side: of the air handler that it is on; None where the list leaves that to the fitting.
        auto_gauge: whether the list left the gauge to the code table; no part of what makes two
            lines equal.
    """

    row: int
    mark: str
    fitting: Fitting
    qty: int
    metal: SheetMetal
    note: str = ""
    cfm: float | None = None
    air_side: Literal["supply", "return"] | None = None
    auto_gauge: bool = field(default=False, compare=False)

    @property
    def side(self) -> Literal["supply", "return"]:
        """Of the air handler that it is on."""
        return self.air_side or self.fitting.air_side


class Kind(Enum):
    """What there is to say of a gauge."""

    CHOSEN = "chosen"
    """The list left it to the table."""
    LIGHTER = "lighter"
    """The list gives less than the table asks for: a warning."""
    BEYOND = "beyond"
    """The fitting is larger than the table reaches."""
    UNTABLED = "untabled"
    """The table has no line for the metal or the shape."""


@dataclass(frozen=True)
class Advice:
    """What a code table says of a row's gauge.

    Attributes:
        row: of the job list.
        mark: the fitting's.
        kind: see `Kind`.
        sentence: for a person, without the mark.
    """

    row: int
    mark: str
    kind: Kind
    sentence: str


@dataclass(frozen=True)
class Job:
    """A whole job list.

    Attributes:
        name: of the job, for the papers.
        unit: what bare numbers were read in and sizes are shown in.
        lines: in the order of the file.
        assumed: what the list left open and how it was read, in sentences; no part of what makes
            two jobs equal.
        advice: what the shop's code table says of its gauges; no part of it either.
    """

    name: str
    unit: Unit
    lines: tuple[JobLine, ...]
    assumed: tuple[str, ...] = field(default=(), compare=False)
    advice: tuple[Advice, ...] = field(default=(), compare=False)
