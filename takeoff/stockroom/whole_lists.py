"""Whole lists of sheets and offcuts: all that is wrong with one is found before any is taken in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from functools import partial

from takeoff.errors import Fault

from . import exact
from .errors import ListRefused, NotThere, Unkeepable
from .records import Kind, KindKey, NewOffcut, Refused

HIGHEST_BROUGHT = 9_999_999
"""Number of a label that a list may bring: the rack counts on from the highest there ever was."""


def refuse_sheets(wanted: Sequence[Kind], known: Mapping[KindKey, Kind]) -> None:
    """Raise ListRefused where a kind cannot be set to its count and price."""
    seen: set[KindKey] = set()
    refused = []
    for index, kind in enumerate(wanted):
        faults = [*_kind(kind), *_beside(kind, known.get(kind.key), kind.key in seen)]
        refused += [Refused(index, fault) for fault in faults]
        seen.add(kind.key)
    if refused:
        raise ListRefused(refused)


def refuse_offcuts(wanted: Sequence[tuple[str, NewOffcut]], used: AbstractSet[int]) -> None:
    """Raise ListRefused where an offcut cannot be put on the rack under its label."""
    seen: set[int] = set()
    refused = []
    for index, (label, piece) in enumerate(wanted):
        faults = [*offcut_faults(piece), *_label(label, used, seen)]
        refused += [Refused(index, fault) for fault in faults]
    if refused:
        raise ListRefused(refused)


def offcut_faults(piece: NewOffcut) -> Iterator[Fault]:
    """What of an offcut cannot be kept."""
    yield from _fault(partial(exact.down_to_steps, piece.width, "width"))
    yield from _fault(partial(exact.down_to_steps, piece.length, "length"))
    yield from _fault(partial(exact.text, piece.place, "place"))
    yield from _fault(partial(exact.text, piece.note, "note"))


def _kind(kind: Kind) -> Iterator[Fault]:
    """What of a kind cannot be kept."""
    yield from _fault(partial(exact.name, kind.key.name, "stock"))
    yield from _fault(partial(exact.to_steps, kind.width, "width"))
    yield from _fault(partial(exact.to_steps, kind.length, "length"))
    yield from _fault(partial(exact.count, kind.on_hand))
    if kind.price is not None:
        yield from _fault(partial(exact.to_parts, kind.price))


def _beside(kind: Kind, known: Kind | None, twice: bool) -> Iterator[Fault]:
    """What of a kind does not go with the rest of the list, or with what is known of it."""
    if twice:
        problem = "is listed before, in the same metal and gauge"
        yield Fault(None, "stock", kind.key.name, problem, "Give each its own name.")
    if known is None:
        return
    if (kind.width, kind.length) != (known.width, known.length):
        kept, given = exact.sides(known.width, known.length), exact.sides(kind.width, kind.length)
        problem = f"is kept as {kept} in the same metal and gauge, not as {given}"
        yield Fault(None, "stock", kind.key.name, problem, "Give another size another name.")
    if kind.on_hand < known.reserved:
        problem = f"is less than the {known.reserved} that are reserved for plans"
        yield Fault(None, "qty", str(kind.on_hand), problem, "Release a plan first.")


def _label(label: str, used: AbstractSet[int], seen: set[int]) -> Iterator[Fault]:
    if not label:
        return
    try:
        number = exact.number(label)
    except NotThere:
        yield Fault(None, "label", label, "is no label", "Write one such as R-000123, or none.")
        return
    if number > HIGHEST_BROUGHT:
        top = exact.label(HIGHEST_BROUGHT)
        problem = "is so high that few numbers would be left after it"
        yield Fault(None, "label", label, problem, f"Give up to {top}, or leave it blank.")
        return
    if number in used or number in seen:
        yield Fault(None, "label", label, "is in use", "Leave it blank for the next one.")
    seen.add(number)


def _fault(check: Callable[[], object]) -> Iterator[Fault]:
    try:
        check()
    except Unkeepable as error:
        yield error.fault
