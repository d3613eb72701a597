"""A table of the shop profile, and the kinds of values that stand in one."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationInfo,
)

from takeoff.faults import refuse
from takeoff.lengths import INCH, parse

WIDEST_STRIP = 12
"""Inches; a seam or end strip wider than this is a slip of the pen or of the unit."""


def _read_length(value: object, info: ValidationInfo) -> Fraction:
    """A length in the unit of the file; a Fraction comes from the defaults and is inches."""
    if isinstance(value, Fraction):
        return value
    unit = (info.context or {}).get("unit", INCH)
    return parse(value, unit)  # type: ignore[arg-type]  # parse refuses any other kind itself


def above_zero(value: Fraction) -> Fraction:
    """The value; an error for a validator where it is 0 or less."""
    if value <= 0:
        raise refuse("is not more than 0", "Give a length of more than 0.")
    return value


def strip_size(value: Fraction) -> Fraction:
    """The value; an error for a validator where it is wider than a strip can be."""
    if value > WIDEST_STRIP:
        raise refuse(f"is more than {WIDEST_STRIP} in", f"Give 0 to {WIDEST_STRIP} in.")
    return value


ShopLength = Annotated[Fraction, PlainValidator(_read_length)]
Positive = Annotated[ShopLength, AfterValidator(above_zero)]
Strip = Annotated[ShopLength, AfterValidator(strip_size)]
Angle = Annotated[float, Field(ge=-180, le=180, allow_inf_nan=False)]
Amount = Annotated[float, Field(ge=0, allow_inf_nan=False)]


def _blank_is_none(value: object) -> object:
    return None if isinstance(value, str) and not value.strip() else value


Known = Annotated[Amount | None, BeforeValidator(_blank_is_none)]
"""An amount, or "" in the file where the shop does not know it: None."""


class Table(BaseModel):
    """A table of the profile: it never changes and takes no key it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid")
