"""What pydantic finds wrong, said as `Fault`s for the person who wrote the value."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError

from takeoff.errors import Fault, InvalidLength, nearest
from takeoff.lengths import show_exactly

REFUSED = "refused"
"""Type of the errors made by `refuse`."""

MISSING = "missing"
"""Pydantic's type of the error for a key that must be there."""

Location = tuple[int | str, ...]
"""Key path of an error, as pydantic gives it."""

_KINDS = {
    "int": ("is not a whole number", "Give a whole number."),
    "float": ("is not a number", "Give a number."),
    "finite": ("is not a number", "Give a number."),
    "bool": ("is neither yes nor no", "Give true or false."),
    "string": ("is not a text", "Write it in quotation marks."),
    "model": ("is not a table", "Give it as a table of its own."),
    "mapping": ("is not a table", "Give it as a table of its own."),
    "dict": ("is not a table", "Give it as a table of its own."),
}
_LIMITS = {
    "greater_than": ("is not more than {gt}", "Give more than {gt}."),
    "greater_than_equal": ("is less than {ge}", "Give {ge} or more."),
    "less_than": ("is not less than {lt}", "Give less than {lt}."),
    "less_than_equal": ("is more than {le}", "Give {le} or less."),
    "string_too_short": ("is too short", "Write something."),
    "literal_error": ("is not a choice here", "Give {expected}."),
}


def refuse(problem: str, allowed: str) -> PydanticCustomError:
    """An error for a validator to raise; the two sentences arrive in the `Fault` as they are."""
    return PydanticCustomError(REFUSED, "{problem}", {"problem": problem, "allowed": allowed})


def from_validation(
    error: ValidationError, model: type[BaseModel], row: int | None = None
) -> tuple[Fault, ...]:
    """Every error of a validation as a fault; its column is the key path, joined with dots.

    Keys missing from one table make one fault.
    """
    errors = error.errors(include_url=False)
    lacking = [each for each in errors if each["type"] == MISSING]
    tables = dict.fromkeys(each["loc"][:-1] for each in lacking)
    return (
        *(_fault(each, model, row) for each in errors if each["type"] != MISSING),
        *(_lacking(table, lacking, row) for table in tables),
    )


def _lacking(table: Location, lacking: list[ErrorDetails], row: int | None) -> Fault:
    keys = ", ".join(str(each["loc"][-1]) for each in lacking if each["loc"][:-1] == table)
    path = ".".join(map(str, table)) or None
    return Fault(row, path, "nothing", f"is given for {keys}", "Give a value for each.")


def _fault(details: ErrorDetails, model: type[BaseModel], row: int | None) -> Fault:
    location = [str(step) for step in details["loc"]]
    path = ".".join(location)
    kind, context = details["type"], details.get("ctx", {})
    if kind == "extra_forbidden":
        known = _keys(model, location[:-1])
        return Fault(row, path, location[-1], "is not a key here", nearest(location[-1], known))
    return Fault(row, path, _written(details["input"]), *_told(kind, context, details["msg"]))


def _told(kind: str, context: Mapping[str, Any], message: str) -> tuple[str, str]:
    """Problem and allowed, for one kind of pydantic error."""
    if kind == REFUSED:
        return context["problem"], context["allowed"]
    if isinstance(context.get("error"), InvalidLength):
        advice = context["error"].advice
        return "is not a length", advice[:1].upper() + advice[1:]
    if kind in _LIMITS:
        limits = {key: _written(limit) for key, limit in context.items()}
        problem, allowed = _LIMITS[kind]
        return problem.format(**limits), allowed.format(**limits)
    for start, told in _KINDS.items():
        if kind.startswith(start):
            return told
    return "is refused", message


def _written(value: object) -> str:
    """The value as the person wrote it, near enough; an exact one is a length, in inches."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, Fraction):
        return show_exactly(value)
    if isinstance(value, float):
        return f"{value:g}"
    return "a table" if isinstance(value, Mapping) else str(value)


def _keys(model: type[BaseModel], location: list[str]) -> list[str]:
    """The keys that the table at that place of the model knows."""
    kind: Any = model
    for step in location:
        kind = kind.model_fields[step].annotation if _is_model(kind) else get_args(kind)[-1]
    return list(kind.model_fields) if _is_model(kind) else []


def _is_model(kind: object) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)
