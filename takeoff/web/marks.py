"""Marks that a page proposes."""

from __future__ import annotations

import re
from itertools import count

from takeoff.fittings import Fitting
from takeoff.stockroom import StoredJob


def first_mark(job: StoredJob, family: type[Fitting]) -> str:
    """The next free mark of a family: `SD3` for the third straight duct."""
    letters = "".join(word[0] for word in family.kind.split()).upper()
    return _free(job, letters, 1)


def next_mark(job: StoredJob, mark: str) -> str:
    """The next free mark after another: `D4` after `D3`, `trunk 2` after `trunk`."""
    found = re.fullmatch(r"(.*?)(\d{1,9})", mark, re.ASCII)
    return _free(job, found[1], int(found[2]) + 1) if found else _free(job, f"{mark} ".lstrip(), 2)


def _free(job: StoredJob, letters: str, start: int) -> str:
    taken = {row.cells.get("mark", "").casefold() for row in job.rows}
    marks = (f"{letters}{number}" for number in count(start))
    return next(mark for mark in marks if mark.casefold() not in taken)
