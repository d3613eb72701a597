"""A job: the fittings of a job list, each read and checked."""

from __future__ import annotations

from dataclasses import dataclass, field

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
    """

    row: int
    mark: str
    fitting: Fitting
    qty: int
    metal: SheetMetal
    note: str = ""


@dataclass(frozen=True)
class Job:
    """A whole job list.

    Attributes:
        name: of the job, for the papers.
        unit: what bare numbers were read in and sizes are shown in.
        lines: in the order of the file.
        assumed: what the list left open and how it was read, in sentences; no part of what makes
            two jobs equal.
    """

    name: str
    unit: Unit
    lines: tuple[JobLine, ...]
    assumed: tuple[str, ...] = field(default=(), compare=False)
