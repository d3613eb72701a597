"""`blankwright check`: everything that can be said of a job without nesting it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from takeoff.plural import many

from .options import JobFile, ProfileFile, StockFile

if TYPE_CHECKING:
    from rich.table import Table

    from takeoff.cli.given import Given


def check(job: JobFile, stock: StockFile = None, profile: ProfileFile = None) -> None:
    """Check a job list without nesting it.

    Reads every row and sees that the sheets and the brake can take every fitting. Prints the
    sizes of the blanks, and what was taken for granted.
    """
    from rich.console import Console  # noqa: PLC0415 - slow to load
    from rich.text import Text  # noqa: PLC0415 - slow to load

    from takeoff.cli.given import read_given  # noqa: PLC0415 - slow to load
    from takeoff.findings import findings  # noqa: PLC0415 - slow to load
    from takeoff.uncut import beyond_shear  # noqa: PLC0415 - slow to load

    given = read_given(job, stock, profile)
    console = Console()
    console.print(Text(given.job.name, style="bold"))
    console.print(_blanks(given))
    for sentence in _assumed(given, "the standard sizes" if stock is None else stock.name):
        console.print(Text(f"- {sentence}"))
    for sentence in findings(given.job, given.profile):
        console.print(Text(sentence, style="yellow"))
    uncut = tuple(beyond_shear(given.job, given.lines, given.stock, given.profile))
    for sentence in uncut:
        console.print(Text(sentence, style="yellow"))
    fittings = sum(line.line.qty for line in given.lines)
    blanks = sum(blank.qty for line in given.lines for blank in line.blanks)
    sound = "Sound"
    if uncut:
        sound = f"Sound but for {many(len(uncut), 'blank')} that the shear cannot cut"
    told = f"{sound}: {many(fittings, 'fitting')}, {many(blanks, 'blank')}."
    console.print(Text(told, style="bold"))


def _blanks(given: Given) -> Table:
    from rich.table import Table  # noqa: PLC0415 - slow to load
    from rich.text import Text  # noqa: PLC0415 - slow to load

    from takeoff.lengths import show_exactly  # noqa: PLC0415 - slow to load

    unit = given.job.unit
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("Blank", overflow="fold")
    table.add_column("Fitting", overflow="fold")
    for title in (f"Width ({unit.name})", f"Length ({unit.name})", "Qty"):
        table.add_column(title, justify="right")
    table.add_column("Metal", no_wrap=True)
    for line in given.lines:
        for blank in line.blanks:
            table.add_row(
                Text(blank.name),
                blank.fitting,
                show_exactly(blank.width, unit),
                show_exactly(blank.length, unit),
                str(blank.qty),
                blank.metal.name,
            )
    return table


def _assumed(given: Given, sheets: str) -> Iterator[str]:
    """What was taken for granted, and what the fittings decided for themselves."""
    from takeoff.profile import changes  # noqa: PLC0415 - slow to load

    yield from given.job.assumed
    yield f"Sheets: {sheets}."
    changed = changes(given.profile)
    if not changed:
        yield "Seams, ends and machines are the defaults that the command profile prints."
    for change in changed:
        yield f"Shop setting {change.key} = {change.value} (default {change.usual or 'none'})."
    for line in given.lines:
        for note in line.made.notes:
            yield f"{line.line.mark}: {note}"
