"""How far a fitting shifts its duct sideways or up: a length with a sign."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from pydantic import BeforeValidator, Field, ValidationInfo

from .base import LONGEST, read_size

_MINUS = "-−–"


def read_shift(value: object, info: ValidationInfo) -> Fraction:
    """A length in the job's unit, with a minus for the other way: 4, -3 1/2, -90mm."""
    if isinstance(value, int | float) and not isinstance(value, bool) and value < 0:
        return -read_size(-value, info)
    if isinstance(value, str) and value.strip()[:1] in tuple(_MINUS):
        return -read_size(value.strip()[1:], info)
    return read_size(value, info)


Shift = Annotated[Fraction, BeforeValidator(read_shift), Field(ge=-LONGEST, le=LONGEST)]
"""A distance that may go either way, held in inches."""

Room = Annotated[Fraction, BeforeValidator(read_size), Field(ge=0, le=LONGEST)]
"""A length that may be nothing, held in inches."""
