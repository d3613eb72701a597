"""The comparison as a table on the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from takeoff.advice import WARNING
from takeoff.bill.money import show as money

from .choices import AS_WRITTEN
from .results import Comparison, Row

NOTHING = "-"


def table(comparison: Comparison) -> Group:
    """What every choice comes to, the notes below; no text of the job is taken for markup."""
    return Group(*_parts(comparison))


def _parts(comparison: Comparison) -> Iterator[RenderableType]:
    yield Text(comparison.job, style="bold")
    notes = list(dict.fromkeys(row.note for row in comparison.rows if row.note))
    yield _rows(comparison, notes)
    for number, note in enumerate(notes, 1):
        yield Text(f"{number}  {note}")
    yield from (Text(sentence) for sentence in verdict(comparison))
    if any(row.outcome.too_light for row in comparison.rows):
        yield Text(f"Code table ({comparison.table}). {WARNING}", style="yellow")
    for sentence in (*comparison.faults, *comparison.price_notes):
        yield Text(sentence, style="yellow")
    if len(comparison.rows) < comparison.asked:
        left = comparison.asked - len(comparison.rows)
        yield Text(f"{left} of {comparison.asked} choices were not finished.", style="bold red")


def verdict(comparison: Comparison) -> Iterator[str]:
    """Which choice is the cheapest of those that the code table does not find too light."""
    made = [row for row in comparison.rows if row.figures]
    if not made:
        return
    light = any(row.outcome.too_light for row in made)
    if (best := comparison.cheapest) is not None:
        which = "Cheapest that the code table does not find too light" if light else "Cheapest"
        yield f"{which}: {_saving(best)}."
    else:
        yield "The code table finds all of them too light, so none is named as the cheapest."
    yield f"No plan costs more than {max(comparison.gap, 0):.1%} above its proved least."


def _saving(row: Row) -> str:
    cost = money(row.figures.cost) if row.figures else NOTHING
    told = f"{row.choice.name}, {cost}"
    if row.choice == AS_WRITTEN or row.saves is None or row.saves_weight is None:
        return told
    if row.saves < 0:
        return f"{told}, {money(-row.saves)} more than the job as written"
    return f"{told}; it saves {money(row.saves)} and {float(row.saves_weight):.1f} lb"


def _rows(comparison: Comparison, notes: list[str]) -> Table:
    shown = Table(box=None, pad_edge=False, header_style="bold")
    shown.add_column("Choice", overflow="fold")
    for name in ("Cost", "Saves", "lb", "Saves lb", "Used", "Sheets"):
        shown.add_column(name, justify="right", no_wrap=True)
    if notes:
        shown.add_column("Note")
    best = comparison.cheapest
    for row in comparison.rows:
        cells = [row.choice.name, *_figures(row)]
        note = [str(notes.index(row.note) + 1) if row.note else ""] if notes else []
        shown.add_row(
            *(Text(cell) for cell in (*cells, *note)), style="bold" if row is best else ""
        )
    return shown


def _figures(row: Row) -> list[str]:
    figures = row.figures
    if figures is None:
        return [NOTHING] * 6
    itself = row.choice == AS_WRITTEN
    return [
        money(figures.cost),
        "" if itself else NOTHING if row.saves is None else money(row.saves),
        f"{float(figures.weight):.1f}",
        "" if itself else NOTHING if row.saves_weight is None else f"{float(row.saves_weight):.1f}",
        f"{figures.used:.1%}",
        str(figures.sheets),
    ]
