"""What the job list asked of a fitting, back as text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction

from takeoff.fittings import Fitting
from takeoff.lengths import Unit, show_exactly


def given(fitting: Fitting, unit: Unit) -> dict[str, str]:
    """The dimensions and options that were filled in, by column, in the order of the card."""
    return {
        name: text_of(getattr(fitting, name), unit)
        for name in type(fitting).model_fields
        if name in fitting.model_fields_set
    }


def text_of(value: object, unit: Unit) -> str:
    """A value of a fitting's card as a person reads it; lengths with their unit."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return f"{show_exactly(value, unit)} {unit.name}"
    if isinstance(value, Mapping):
        parts = (_pair(key, text_of(item, unit)) for key, item in value.items())
        return "; ".join(parts)
    if isinstance(value, tuple | list):
        return ", ".join(text_of(item, unit) for item in value) or "none"
    if is_dataclass(value):
        held = ((field.name, getattr(value, field.name)) for field in fields(value))
        return " ".join(f"{name} {text_of(item, unit)}" for name, item in held if item is not None)
    return str(value)


def _pair(key: object, text: str) -> str:
    place = "/".join(str(part) for part in key if part) if isinstance(key, tuple) else str(key)
    return f"{place}: {text}" if place else text
