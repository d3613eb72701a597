"""A fitting's own model as the fields of a form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from pydantic.fields import FieldInfo

from takeoff.edges import SLIP_AND_DRIVE
from takeoff.errors import Fault
from takeoff.fittings import Fitting
from takeoff.fittings.base import plain
from takeoff.jobs.card_text import defaults
from takeoff.jobs.columns import ABOUT, AIR, NEEDED
from takeoff.jobs.line import AUTO, USUAL_MATERIAL
from takeoff.lengths import Unit
from takeoff.limits import allowed, is_length, is_number, named
from takeoff.materials import MATERIALS, gauges
from takeoff.settings import Profile

Kind = Literal["length", "number", "choice", "text"]
Cells = Mapping[str, str]


@dataclass(frozen=True)
class FormField:
    """One field of a form.

    Attributes:
        name: of its column.
        label: for a person.
        kind: how it is filled in.
        value: what stands in it.
        about: what it is, in a sentence.
        allowed: what it takes, in a few words.
        usual: what a blank means; "" where nothing is meant.
        needed: whether it must be filled in.
        options: of a choice, the blank one apart.
        offered: texts that can be picked instead of typed.
        faults: what is wrong with it, in sentences.
    """

    name: str
    label: str
    kind: Kind
    value: str = ""
    about: str = ""
    allowed: str = ""
    usual: str = ""
    needed: bool = False
    options: tuple[str, ...] = ()
    offered: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()

    @property
    def help(self) -> str:
        """What it is and what it takes, below the field."""
        limits = f"{self.allowed[:1].upper()}{self.allowed[1:]}." if self.allowed else ""
        shown = limits if self.kind in ("length", "number") else ""
        return " ".join(part for part in (self.about, shown) if part)


@dataclass(frozen=True)
class Form:
    """The fields of a fitting in the order they are measured.

    Attributes:
        first: mark and count.
        sizes: what the fitting must have, and what else makes it what it is.
        metal: what it is made of.
        more: all that may be left blank.
        general: faults that belong to no field.
    """

    first: tuple[FormField, ...]
    sizes: tuple[FormField, ...]
    metal: tuple[FormField, ...]
    more: tuple[FormField, ...]
    general: tuple[str, ...]

    @property
    def fields(self) -> tuple[FormField, ...]:
        """All of them."""
        return (*self.first, *self.sizes, *self.metal, *self.more)

    @property
    def opened(self) -> bool:
        """Whether something stands among those that may be left blank."""
        return any(field.value or field.faults for field in self.more)

    @property
    def faulty(self) -> tuple[FormField, ...]:
        """The fields with faults."""
        return tuple(field for field in self.fields if field.faults)

    @property
    def lacking(self) -> tuple[str, ...]:
        """Labels of the fields that must still be filled in."""
        return tuple(field.label for field in self.fields if field.needed and not field.value)


def form(
    family: type[Fitting],
    cells: Cells,
    faults: Sequence[Fault],
    unit: Unit,
    profile: Profile,
) -> Form:
    """The form of a family with what stands in it.

    Args:
        family: whose form it is.
        cells: filled in so far, by column.
        faults: of those cells.
        unit: of bare numbers.
        profile: whose seams and ends can be picked.
    """
    told: dict[str, list[str]] = {}
    general: list[str] = []
    known = {*_FIXED, *family.model_fields}
    for fault in faults:
        if fault.column in known:
            told.setdefault(fault.column or "", []).append(sentence(fault))
        else:
            general.append(sentence(fault))
    usual = defaults(family, unit)

    def fixed(name: str) -> FormField:
        return _fixed(name, cells.get(name, ""), tuple(told.get(name, ())))

    def own(name: str) -> FormField:
        field = family.model_fields[name]
        blank = usual.get(name, "")
        return FormField(
            name=name,
            label=label(name),
            kind=_kind(field),
            value=_picked(field, cells.get(name, "")),
            about=field.description or "",
            allowed=allowed(field, unit),
            usual=blank,
            needed=field.is_required(),
            options=_with_value(named(field), _picked(field, cells.get(name, ""))),
            offered=_offered(blank, profile),
            faults=tuple(told.get(name, ())),
        )

    names = list(family.model_fields)
    sizes = measured(family)
    # what is the family's own before what every fitting has
    rest = sorted(
        set(names) - set(sizes), key=lambda n: (n in Fitting.model_fields, names.index(n))
    )
    return Form(
        first=(fixed("mark"), fixed("qty")),
        sizes=tuple(map(own, sizes)),
        metal=(fixed("material"), fixed("gauge")),
        more=(*map(own, rest), fixed(AIR), fixed("note")),
        general=tuple(general),
    )


def measured(family: type[Fitting]) -> list[str]:
    """The fields that are measured: those that are needed and those that belong with them."""
    return [
        name
        for name, field in family.model_fields.items()
        if field.is_required() or name in family.measured
    ]


def label(name: str) -> str:
    """A column's name for a person: `width_2` is `Width 2`."""
    words = name.replace("_", " ")
    return "Air, cfm" if name == AIR else f"{words[:1].upper()}{words[1:]}"


def sentence(fault: Fault) -> str:
    """A fault beside its field: `17 1/ is not a length. Write ...`."""
    return str(replace(fault, row=None, column=None))


_FIXED = ("mark", "qty", "material", "gauge", AIR, "note")


def _fixed(name: str, value: str, faults: tuple[str, ...]) -> FormField:
    usual = {"qty": "1", "material": USUAL_MATERIAL}.get(name, "")
    options: tuple[str, ...] = ()
    kind: Kind = "number" if name == "qty" else "text"
    if name == "material":
        kind, options = "choice", tuple(metal for metal in MATERIALS if metal != usual)
    if name == "gauge":
        numbers = sorted({gauge for metal in MATERIALS for gauge in gauges(metal)})
        kind, options = "choice", (AUTO, *map(str, numbers))
    return FormField(
        name=name,
        label=label(name),
        kind=kind,
        value=value,
        about=ABOUT[name],
        usual=usual,
        needed=name in NEEDED,
        options=_with_value(options, value) if kind == "choice" else (),
        faults=faults,
    )


def _kind(field: FieldInfo) -> Kind:
    if named(field):
        return "choice"
    if is_length(field):
        return "length"
    return "number" if is_number(field) else "text"


def _picked(field: FieldInfo, value: str) -> str:
    """The value as the choice spells it; anything else as it is."""
    return plain(value) if plain(value) in named(field) else value


def _with_value(options: Sequence[str], value: str) -> tuple[str, ...]:
    """The options, and what stands in the field where it is none of them: nothing is lost."""
    if not options or not value or value in options:
        return tuple(options)
    return (*options, value)


def _offered(usual: str, profile: Profile) -> tuple[str, ...]:
    """The shop's seams, or its ends, for a field whose blank means one of them."""
    ends = [SLIP_AND_DRIVE, *map(plain, profile.ends)]
    seams = list(map(plain, profile.seams))
    for names in (ends, seams):
        if plain(usual) in names:
            return tuple(names)
    return ()
