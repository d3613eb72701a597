"""What a field of a pydantic model allows, told in a few words and in the reader's own unit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from takeoff.lengths import Unit, show_exactly

BOUNDS = ("gt", "ge", "lt", "le")
_NUMBERS = {int: "a whole number", float: "a number", Fraction: "a length"}


@dataclass(frozen=True)
class _Choice:
    """One kind of value that a field takes, with the limits that hold for it."""

    kind: object
    bounds: Mapping[str, Any]


def allowed(field: FieldInfo, unit: Unit) -> str:
    """`more than 0, up to 600 in`, `a whole number, 1 to 8`, `auto, yes or no`.

    Returns:
        "" for a field of free text or of a notation of its own; its description tells about it.
    """
    choices = _choices(field.annotation, field.metadata)
    return " or ".join(told for told in (_told(choice, unit) for choice in choices) if told)


def is_length(field: FieldInfo) -> bool:
    """Whether the field takes a length."""
    return Fraction in _kinds(field)


def is_number(field: FieldInfo) -> bool:
    """Whether the field takes a number that is no length."""
    return not _kinds(field).isdisjoint((int, float))


def named(field: FieldInfo) -> tuple[str, ...]:
    """The names to choose from where the field takes nothing else: `yes` and `no`, or its own."""
    names: list[str] = []
    for choice in _choices(field.annotation, field.metadata):
        if choice.kind is bool:
            names += ["yes", "no"]
        elif get_origin(choice.kind) is Literal:
            names += map(str, get_args(choice.kind))
        else:
            return ()
    return tuple(names)


def _kinds(field: FieldInfo) -> set[object]:
    """Types that the field takes; named choices are left out."""
    kinds = (choice.kind for choice in _choices(field.annotation, field.metadata))
    return {kind for kind in kinds if isinstance(kind, type)}


def length_text(value: float | Fraction, unit: Unit) -> str:
    """A limit of a length field, held in inches, as text in the unit: `15240 mm`."""
    inches = Fraction(value)
    return f"{show_exactly(inches, unit)} {unit.name}" if inches else "0"


def _choices(annotation: object, metadata: Iterable[object]) -> Iterator[_Choice]:
    """The kinds of value that an annotation is made up of; None is left out."""
    if get_origin(annotation) is Annotated:
        inner, *more = get_args(annotation)
        yield from _choices(inner, (*metadata, *more))
    elif get_origin(annotation) in (Union, UnionType):
        for each in get_args(annotation):
            if each is not NoneType:
                yield from _choices(each, metadata)
    else:
        yield _Choice(annotation, dict(_bounds(metadata)))


def _bounds(metadata: Iterable[Any]) -> Iterator[tuple[str, Any]]:
    for each in metadata:
        if isinstance(each, FieldInfo):
            yield from _bounds(each.metadata)
        for bound in BOUNDS:
            if (value := getattr(each, bound, None)) is not None:
                yield bound, value


def _told(choice: _Choice, unit: Unit) -> str:
    if get_origin(choice.kind) is Literal:
        return _listed([str(each) for each in get_args(choice.kind)])
    if choice.kind is bool:
        return "yes or no"
    if choice.kind not in _NUMBERS:
        return ""
    within = _range(choice, unit)
    if choice.kind is Fraction:
        return within or _NUMBERS[Fraction]
    return ", ".join(part for part in (_NUMBERS[choice.kind], within) if part)


def _range(choice: _Choice, unit: Unit) -> str:
    """The bounds in words, with the unit once at the end where they are lengths."""
    lengths = choice.kind is Fraction

    def number(value: float | Fraction) -> str:
        return show_exactly(Fraction(value), unit) if lengths else f"{value:g}"

    last = f" {unit.name}" if lengths else ""
    at = {bound: number(value) for bound, value in choice.bounds.items()}
    if "ge" in at and "le" in at:
        return f"{at['ge']} to {at['le']}{last}"
    low = f"more than {at['gt']}" if "gt" in at else at.get("ge", "")
    high = f"up to {at['le']}" if "le" in at else f"less than {at['lt']}" if "lt" in at else ""
    if low and high:
        return f"{low}, {high}{last}" if "gt" in at else f"{low} or more, {high}{last}"
    if "ge" in at:
        return f"{low}{last} or more"
    return f"{low or high}{last}" if low or high else ""


def _listed(names: list[str]) -> str:
    return " or ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)
