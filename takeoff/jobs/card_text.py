"""A fitting's card in the words of a job list."""

from __future__ import annotations

from fractions import Fraction

from takeoff.fittings import Fitting
from takeoff.lengths import Unit
from takeoff.spelling import spelled

from .cells import text


def filled_in(fitting: Fitting, unit: Unit) -> dict[str, str]:
    """What differs from the defaults, by column, as a job list in that unit has it."""
    return _words(fitting, fitting.model_dump(exclude_defaults=True, context={"unit": unit}), unit)


def for_the_bench(fitting: Fitting, unit: Unit) -> dict[str, str]:
    """What a bench must know of it, by column: as `filled_in`, and what is measured though blank.

    The throat of an elbow is among them where the job list leaves it to the default.
    """
    written = fitting.model_dump(exclude_defaults=True, context={"unit": unit})
    shown = {*written, *type(fitting).measured}
    words = _words(fitting, fitting.model_dump(include=shown, context={"unit": unit}), unit)
    return {name: told for name, told in words.items() if told}


def defaults(family: type[Fitting], unit: Unit) -> dict[str, str]:
    """What a blank cell means, by column; "" where the shop decides or nothing is meant."""
    blank = family.model_construct()
    optional = {name for name, about in family.model_fields.items() if not about.is_required()}
    return _words(blank, blank.model_dump(include=optional, context={"unit": unit}), unit)


def _words(fitting: Fitting, written: dict[str, object], unit: Unit) -> dict[str, str]:
    return {name: _text(getattr(fitting, name), each, unit) for name, each in written.items()}


def _text(held: object, written: object, unit: Unit) -> str:
    """A value as it is held and as the serializer of its field writes it."""
    if held is None:
        return ""
    if isinstance(held, Fraction):
        return spelled(held, unit)
    if isinstance(held, bool):
        return "yes" if held else "no"
    if isinstance(held, tuple) and isinstance(written, tuple | list):
        pairs = zip(held, written, strict=True)
        return "; ".join(_text(each, words, unit) for each, words in pairs)
    return written if isinstance(written, str) else text(written)
