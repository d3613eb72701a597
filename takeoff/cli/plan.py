"""`blankwright plan`: a job list to a folder of papers."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from takeoff.supply import Draw

from .options import JobFile, ProfileFile, RoomPlace, StockFile, check_seconds
from .outcome import LEFT_OVER

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from takeoff.cli.given import Read
    from takeoff.materials import SheetMetal
    from takeoff.nest import JobPlan
    from takeoff.papers import Baseline
    from takeoff.withdrawal import Withdrawal


BASELINE_SECONDS = 2.0
"""For rectpack, for each metal; it has tried all it knows long before on a usual job."""


def plan(
    job: JobFile,
    out: Annotated[
        Path,
        typer.Option("--out", metavar="DIR", help="The folder to write; the command makes it."),
    ],
    stock: StockFile = None,
    profile: ProfileFile = None,
    seconds: Annotated[
        float,
        typer.Option(
            metavar="S",
            callback=check_seconds,
            help="For nesting the whole job; more gives better plans. Ctrl-C takes what is there.",
        ),
    ] = 2.0,
    seed: Annotated[int, typer.Option(metavar="N", min=0, help="Of all chance in the search.")] = 0,
    force: Annotated[bool, typer.Option("--force", help="Replace a plan that is there.")] = False,
    compare: Annotated[
        bool, typer.Option("--compare", help="Tell what the packer rectpack makes of it.")
    ] = False,
    packet: Annotated[
        bool,
        typer.Option(
            "--packet/--no-packet", help="Whether packet.pdf, the cards for the bench, is written."
        ),
    ] = True,
    patterns: Annotated[
        bool,
        typer.Option("--patterns", help="Write every blank at full size as well, in dxf/."),
    ] = False,
    draw: Annotated[
        Draw,
        typer.Option(help="Take from the stock room first: offcuts, or all, sheets on hand too."),
    ] = Draw.NOTHING,
    room: RoomPlace = None,
) -> None:
    """Plan a job: its blanks, nested on sheets, and a folder of papers.

    A plan that draws on the stock room reserves nothing: commit does.
    """
    # all slow to load, and --help needs none of them
    from rich.console import Console  # noqa: PLC0415

    from takeoff.cli.given import made, read  # noqa: PLC0415
    from takeoff.cli.progress import NestProgress  # noqa: PLC0415
    from takeoff.findings import findings  # noqa: PLC0415
    from takeoff.nest import nest_job  # noqa: PLC0415
    from takeoff.papers import Extra, contents, write_all  # noqa: PLC0415
    from takeoff.papers.beside import second_process  # noqa: PLC0415
    from takeoff.papers.contents import bend_orders  # noqa: PLC0415
    from takeoff.papers.folder import check_free  # noqa: PLC0415
    from takeoff.papers.terminal import summary  # noqa: PLC0415
    from takeoff.papers.writing import load  # noqa: PLC0415

    check_free(out, force)
    found = read(job, stock, profile)
    again = _again(job, stock, profile, seconds, seed, packet, patterns, draw)
    found, withdrawal = _drawn(found, stock is None, draw, room, again)
    given = made(found, job)
    wanted = {Extra.PACKET: packet, Extra.PATTERNS: patterns}
    extras = [extra for extra, asked in wanted.items() if asked]
    with second_process() as beside:
        orders = beside.submit(bend_orders, given.lines, given.profile.brake)
        beside.submit(load)
        with NestProgress(Console(stderr=True), seconds) as progress:
            solved = nest_job(
                given.job,
                given.lines,
                given.stock,
                given.profile,
                seconds,
                seed,
                progress,
                room=withdrawal,
            )
        papers = contents(solved, _baselines(solved) if compare else {}, orders.result())
        files = write_all(papers, out, force, extras, beside)
    Console().print(summary(papers))
    for sentence in findings(solved.job, solved.profile):
        typer.echo(sentence)
    if solved.stopped:
        typer.echo("Stopped by Ctrl-C: this is the best plan found until then, written whole.")
    typer.echo(f"Written to {out}: {_listed([file.relative_to(out) for file in files])}")
    if left := _left_over(solved):
        for line in left:
            typer.echo(line, err=True)
        raise typer.Exit(LEFT_OVER)


def _again(
    job: Path,
    stock: Path | None,
    profile: Path | None,
    seconds: float,
    seed: int,
    packet: bool,
    patterns: bool,
    draw: Draw,
) -> tuple[str, ...]:
    """The arguments that make this plan anew, wherever they are given; its folder may be moved."""
    files = {"--stock": stock, "--profile": profile}
    return (
        "plan",
        str(job.resolve()),
        *(part for name, file in files.items() if file for part in (name, str(file.resolve()))),
        *("--seconds", f"{seconds:g}", "--seed", str(seed), "--draw", draw.value, "--force"),
        *(() if packet else ("--no-packet",)),
        *(("--patterns",) if patterns else ()),
    )


def _drawn(
    found: Read, standard: bool, draw: Draw, room: str | None, again: tuple[str, ...]
) -> tuple[Read, Withdrawal | None]:
    """What was read, with the sheets that the shop buys by its stock room; what may be taken."""
    if draw is Draw.NOTHING:
        if room is not None:
            raise typer.BadParameter("--room is of no use without --draw offcuts or --draw all.")
        return found, None
    from takeoff.storekeeping.taking import bought, withdrawal  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    with open_existing(place_of(room, found.profile)) as opened:
        taken = withdrawal(opened, draw, again)
        if standard:
            found = replace(found, stock=bought(opened, found.stock, found.profile))
    return found, taken


def _listed(files: Sequence[Path]) -> str:
    """The files by name, those in folders counted."""
    names = [file.name for file in files if len(file.parts) == 1]
    folders = Counter(file.parts[0] for file in files if len(file.parts) > 1)
    return ", ".join([*names, *(f"{count} in {folder}/" for folder, count in folders.items())])


def _left_over(made: JobPlan) -> list[str]:
    """A sentence for each blank that is in no layout."""
    from takeoff.uncut import uncut  # noqa: PLC0415 - slow to load

    return [
        f"Left over: {blank.qty} x {blank.blank.name}, {group.metal.material} "
        f"{group.metal.gauge} ga: {uncut(group, blank, made.profile, made.job.unit)}."
        for group in made.groups
        for blank in group.plan.unplaced
    ]


def _baselines(made: JobPlan) -> Mapping[SheetMetal, Baseline]:
    """What rectpack makes of each metal's blanks."""
    from nesting.baseline import rectpack_best  # noqa: PLC0415 - slow to load
    from takeoff.papers import Baseline  # noqa: PLC0415 - slow to load

    found = {group.metal: rectpack_best(group.problem, BASELINE_SECONDS) for group in made.groups}
    return {
        metal: Baseline("rectpack", best.cost, best.sheets, best.used)
        for metal, best in found.items()
        if best is not None and not best.missing
    }
