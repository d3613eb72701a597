"""What the columns of a job list can be: the fixed ones, and the fields of every fitting."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from takeoff.fittings import families
from takeoff.fittings.base import plain

AIR = "cfm"
"""The column of air, written only where a row tells any."""

FIXED = ("mark", "fitting", "qty", "material", "gauge", AIR, "note")
NEEDED = ("mark", "fitting", "gauge")
"""Columns that every job list has."""

ABOUT = MappingProxyType(
    {
        "mark": "Its name on this job, such as D1; each its own.",
        "fitting": "Which fitting it is.",
        "qty": "How many alike.",
        "material": "What it is made of.",
        "gauge": "Its number; auto takes the least that the shop's code table allows.",
        AIR: "Air through one of them, cubic feet per minute, such as 1200 or 1200 return.",
        "note": "Anything the bench should know.",
    }
)
"""What the fixed columns are, in a sentence each; the fields of fittings tell it themselves."""


def key(title: str) -> str:
    """A title made plain: case, spaces, hyphens and underscores don't matter."""
    return plain(title).replace(" ", "")


@cache
def names() -> Mapping[str, str]:
    """Every column there can be, by its key; the fixed ones first."""
    fields = (field for family in families().values() for field in family.model_fields)
    return MappingProxyType({key(name): name for name in (*FIXED, *fields)})


@cache
def owners(name: str) -> tuple[str, ...]:
    """The fittings that have a dimension or option of the name."""
    return tuple(kind for kind, family in families().items() if name in family.model_fields)
