"""`blankwright compare`: what a job takes in other gauges, metals, sheets, at other prices."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .options import JobFile, ProfileFile, StockFile, check_seconds
from .outcome import INTERRUPTED

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from takeoff.cli.given import Read
    from takeoff.compare.choices import Choice, Supply
    from takeoff.compare.work import Outcome, Task


def compare(
    job: JobFile,
    gauges: Annotated[
        str, typer.Option(metavar="LIST", help="Gauges for the whole job, such as 24,26,28.")
    ] = "",
    materials: Annotated[
        str,
        typer.Option(metavar="LIST", help="Metals for the whole job: galvanized,aluminium."),
    ] = "",
    sheets: Annotated[
        str, typer.Option(metavar="LIST", help="Sheet sizes, one at a time: 48x96,48x120.")
    ] = "",
    prices: Annotated[
        str,
        typer.Option(
            metavar="FILES", help="Price lists: a.csv,b.csv; columns as those of a stock list."
        ),
    ] = "",
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="DIR", help="A folder for table (CSV) and chart (PNG)."),
    ] = None,
    stock: StockFile = None,
    profile: ProfileFile = None,
    seconds: Annotated[
        float,
        typer.Option(metavar="S", callback=check_seconds, help="For nesting each choice."),
    ] = 2.0,
    seed: Annotated[int, typer.Option(metavar="N", min=0, help="Of all chance in the search.")] = 0,
    address: Annotated[
        str | None,
        typer.Option(
            metavar="ADDRESS",
            help="Of a Dask scheduler, such as tcp://host:8786; without it this machine's cores.",
        ),
    ] = None,
    force: Annotated[
        bool, typer.Option("--force", help="Replace a comparison that is there.")
    ] = False,
) -> None:
    """Compare a job over gauges, metals, sheet sizes and price lists.

    Every combination of what is given is planned, and set against the job as it is written.
    Without any, the sheet sizes in stock are compared. Ctrl-C shows what is finished until then.
    """
    # all slow to load, and --help needs none of them
    from rich.console import Console  # noqa: PLC0415

    from takeoff.cli.given import read  # noqa: PLC0415
    from takeoff.compare.results import compared  # noqa: PLC0415
    from takeoff.compare.table import table  # noqa: PLC0415
    from takeoff.compare.writing import check_free, write  # noqa: PLC0415

    if out is not None:
        check_free(out, force)
    given = read(job, stock, profile)
    supply, faults = _supply(given, stock, prices)
    wanted = _choices(given, supply, gauges, materials, sheets)
    tasks = _tasks(given, wanted, supply, seconds, seed)
    finished, stopped = _work(tasks, address, Console(stderr=True))
    made = compared(given.job.name, wanted, finished, faults, given.profile.code.conditions.label)
    Console().print(table(made))
    if out is not None and made.rows:
        files = write(made, out)
        typer.echo(f"Written to {out}: {', '.join(file.name for file in files)}")
    if stopped:
        typer.echo("Stopped by Ctrl-C: these are the choices finished until then.", err=True)
        raise typer.Exit(INTERRUPTED)


def _supply(given: Read, stock: Path | None, prices: str) -> tuple[Supply, list[str]]:
    """Where sheets come from, and what is wrong with the price lists."""
    from takeoff.compare.choices import Supply  # noqa: PLC0415 - slow to load
    from takeoff.prices import read_prices  # noqa: PLC0415 - slow to load

    files = [Path(name.strip()) for name in prices.split(",") if name.strip()]
    alike = len({file.name for file in files}) < len(files)
    lists = {str(file) if alike else file.name: read_prices(file, given.profile) for file in files}
    faults = [f"{name}: {fault}" for name, found in lists.items() for fault in found.faults]
    return Supply(given.stock, stock.name if stock else None, lists), faults


def _choices(
    given: Read, supply: Supply, gauges: str, materials: str, sheets: str
) -> tuple[Choice, ...]:
    """All there is to compare; the sizes in stock where nothing is asked for."""
    from takeoff.compare import choices  # noqa: PLC0415 - slow to load

    sizes = choices.read_sheets(sheets, given.job.unit)
    if not (sizes or gauges or materials or supply.prices):
        sizes = choices.sizes_in_stock(given.job, given.stock)
    return choices.choices(
        choices.read_materials(materials), choices.read_gauges(gauges), sizes, supply
    )


def _tasks(
    given: Read, wanted: Sequence[Choice], supply: Supply, seconds: float, seed: int
) -> list[Task]:
    from takeoff.compare.work import Task  # noqa: PLC0415 - slow to load

    return [Task(choice, given.job, supply, given.profile, seconds, seed) for choice in wanted]


def _work(
    tasks: Sequence[Task], address: str | None, console: Console
) -> tuple[list[Outcome], bool]:
    """What is finished, and whether Ctrl-C ended the work."""
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn  # noqa: PLC0415

    from takeoff.compare.cluster import cluster, work_all  # noqa: PLC0415 - slow to load

    columns = (BarColumn(), MofNCompleteColumn(), TextColumn("{task.description}", markup=False))
    finished: list[Outcome] = []
    try:
        with Progress(
            *columns, console=console, transient=True, disable=not console.is_terminal
        ) as bar:
            shown = bar.add_task("starting", total=len(tasks))
            with cluster(address, len(tasks)) as client:
                bar.update(shown, description="choices")
                for outcome in work_all(client, tasks):
                    finished.append(outcome)
                    bar.update(shown, advance=1, description=f"last: {outcome.choice.name}")
    except KeyboardInterrupt:
        return finished, True
    return finished, False
