"""What pydantic finds wrong, said as `Fault`s for the person who wrote the value."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails, PydanticCustomError

from takeoff.errors import Fault, InvalidLength, nearest
from takeoff.lengths import Unit, show_exactly
from takeoff.limits import allowed as allowed_by
from takeoff.limits import is_length, length_text

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
    error: ValidationError,
    model: type[BaseModel],
    row: int | None = None,
    unit: Unit | None = None,
) -> tuple[Fault, ...]:
    """Every error of a validation as a fault; its column is the key path, joined with dots.

    Keys missing from one table make one fault.

    Args:
        error: what pydantic raised.
        model: what it checked against.
        row: of the file, if it has rows.
        unit: of the person who reads it; limits are then told in it, both ends at once.
    """
    errors = error.errors(include_url=False)
    lacking = [each for each in errors if each["type"] == MISSING]
    tables = dict.fromkeys(each["loc"][:-1] for each in lacking)
    return (
        *(_fault(each, model, row, unit) for each in errors if each["type"] != MISSING),
        *(_lacking(table, lacking, row) for table in tables),
    )


def _lacking(table: Location, lacking: list[ErrorDetails], row: int | None) -> Fault:
    keys = ", ".join(str(each["loc"][-1]) for each in lacking if each["loc"][:-1] == table)
    path = ".".join(map(str, table)) or None
    return Fault(row, path, "nothing", f"is given for {keys}", "Give a value for each.")


def _fault(
    details: ErrorDetails, model: type[BaseModel], row: int | None, unit: Unit | None
) -> Fault:
    location = [str(step) for step in details["loc"]]
    path = ".".join(location)
    kind, context = details["type"], details.get("ctx", {})
    if kind == "extra_forbidden":
        known = _keys(model, location[:-1])
        return Fault(row, path, location[-1], "is not a key here", nearest(location[-1], known))
    value, message = _written(details["input"]), details["msg"]
    field = model.model_fields.get(location[0]) if location and unit is not None else None
    if field is None or unit is None or kind == REFUSED or "error" in context:
        return Fault(row, path, value, *_told(kind, context, message))
    return Fault(row, path, value, *_told_by(field, unit, kind, context, message))


def _told_by(
    field: FieldInfo, unit: Unit, kind: str, context: Mapping[str, Any], message: str
) -> tuple[str, str]:
    """As `_told`, with all that the field allows, in the reader's unit."""

    def limit(value: Any) -> str:  # noqa: ANN401 - as pydantic holds it
        return length_text(value, unit) if is_length(field) else _written(value)

    problem, advice = _told(kind, context, message, limit)
    allowed = allowed_by(field, unit)
    return problem, f"Give {allowed}." if allowed else advice


def _told(
    kind: str,
    context: Mapping[str, Any],
    message: str,
    limit: Callable[[object], str] | None = None,
) -> tuple[str, str]:
    """Problem and allowed, for one kind of pydantic error; `limit` writes a limit down."""
    if kind == REFUSED:
        return context["problem"], context["allowed"]
    if isinstance(context.get("error"), InvalidLength):
        advice = context["error"].advice
        return "is not a length", advice[:1].upper() + advice[1:]
    if kind in _LIMITS:
        limits = {key: (limit or _written)(value) for key, value in context.items()}
        problem, allowed = _LIMITS[kind]
        return problem.format(**limits), allowed.format(**limits)
    for start, told in _KINDS.items():
        if kind.startswith(start):
            return told
    if isinstance(context.get("error"), ValueError):
        return "is refused", str(context["error"])
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
