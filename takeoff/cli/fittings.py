"""`blankwright fittings`: the catalogue, told by the fittings themselves."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from rich.table import Table

    from takeoff.fittings import Fitting
    from takeoff.lengths import Unit


class Units(StrEnum):
    """The units that limits can be told in."""

    IN = "in"
    MM = "mm"


def fittings(
    name: Annotated[
        str | None, typer.Argument(metavar="[NAME]", help="One fitting; without it, all of them.")
    ] = None,
    units: Annotated[Units, typer.Option(help="What limits are told in.")] = Units.IN,
) -> None:
    """List the fittings, or the columns of one in a job list."""
    from rich.console import Console  # noqa: PLC0415 - slow to load
    from rich.text import Text  # noqa: PLC0415 - slow to load

    from takeoff.fittings import find  # noqa: PLC0415 - slow to load
    from takeoff.lengths import UNITS  # noqa: PLC0415 - slow to load

    console = Console()
    if name is None:
        console.print(_all())
        return
    family = find(name)
    console.print(Text(family.kind, style="bold"))
    console.print(Text(family.summary))
    if family.also:
        console.print(Text(f"Also called {', '.join(family.also)}."))
    console.print(_columns(family, UNITS[units.value]))
    console.print(Text("Examples", style="bold"))
    for example in family.examples:
        console.print(Text(_example(example)))


def _all() -> Table:
    from rich.table import Table  # noqa: PLC0415 - slow to load

    from takeoff.fittings import families  # noqa: PLC0415 - slow to load

    table = Table(box=None, pad_edge=False, header_style="bold")
    for title in ("Fitting", "Also called", "What it is"):
        table.add_column(title, overflow="fold")
    for kind, family in families().items():
        table.add_row(kind, ", ".join(family.also), family.summary)
    return table


def _columns(family: type[Fitting], unit: Unit) -> Table:
    """Every column that the fitting has in a job list."""
    from rich.table import Table  # noqa: PLC0415 - slow to load
    from rich.text import Text  # noqa: PLC0415 - slow to load

    from takeoff.jobs.card_text import defaults  # noqa: PLC0415 - slow to load
    from takeoff.limits import allowed  # noqa: PLC0415 - slow to load

    usual = defaults(family, unit)
    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0))
    for title in ("Column", "Allowed", "If blank", "What it is"):
        table.add_column(title, overflow="fold")
    for name in _in_order(family):
        field = family.model_fields[name]
        blank = "must be given" if field.is_required() else usual[name]
        words = (name, allowed(field, unit), blank, field.description or "")
        table.add_row(*(Text(each) for each in words))
    return table


def _in_order(family: type[Fitting]) -> list[str]:
    """The columns of a fitting, what is its own before what every fitting has."""
    from takeoff.fittings import Fitting  # noqa: PLC0415 - slow to load

    return sorted(family.model_fields, key=lambda name: name in Fitting.model_fields)


def _example(example: Mapping[str, str]) -> str:
    return "  " + " | ".join(f"{name}: {value}" for name, value in example.items())
