"""Tables and sentences of the stock room's commands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import typer

from takeoff.errors import printable

if TYPE_CHECKING:
    from takeoff.stockroom import Step

LONGEST_NAME = 24


def show_table(
    titles: Sequence[str], rows: Iterable[Sequence[str]], numbers: Sequence[str]
) -> None:
    """Print a table, blank columns left out; those named in `numbers` stand on the right."""
    from rich.console import Console  # noqa: PLC0415 - slow to load
    from rich.table import Table  # noqa: PLC0415 - slow to load
    from rich.text import Text  # noqa: PLC0415 - slow to load

    lines = list(rows)
    shown = [place for place in range(len(titles)) if any(line[place] for line in lines)]
    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0))
    for place in shown:
        right = titles[place] in numbers
        justify: Literal["left", "right"] = "right" if right else "left"
        table.add_column(titles[place], justify=justify, overflow="fold")
    for line in lines:
        table.add_row(*(Text(printable(line[place])) for place in shown))
    Console().print(table)


def tell_step(step: Step) -> None:
    """Say what was done, under which number, and to what."""
    typer.echo(printable(f"{told_step(step)}."))


def told_step(step: Step) -> str:
    """`Step 7, cut for plan "Bakery": R-000013`."""
    undone = f" {step.undoes}" if step.undoes is not None else ""
    plan = f' for plan "{step.plan}"' if step.plan else ""
    told = f": {step.pieces}" if step.pieces else ""
    return f"Step {step.number}, {step.action.told}{undone}{plan}{told}"


def cut_short(name: str) -> str:
    """The start of a long name, for a table."""
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1].rstrip()}…"


def write_file(path: Path, text: str) -> None:
    """Write a text file, whole or not at all. Raises CannotWrite."""
    from takeoff.papers.folder import whole_file  # noqa: PLC0415 - slow to load

    with whole_file(path) as aside:
        aside.write_text(text, encoding="utf-8", newline="")
