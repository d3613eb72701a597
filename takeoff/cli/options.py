"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from takeoff.errors import CONTROLS, NOT_PRINTED, printable, shortened

JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="The job list: CSV or XLSX.")]

StockFile = Annotated[
    Path | None,
    typer.Option(
        "--stock",
        metavar="CSV",
        help="The sheets there are; without it the standard sizes, as many as needed.",
    ),
]

ProfileFile = Annotated[
    Path | None,
    typer.Option(
        "--profile",
        metavar="TOML",
        help="What your shop does otherwise than the default that the command profile prints.",
    ),
]

RoomPlace = Annotated[
    str | None,
    typer.Option(
        "--room",
        metavar="FILE|URL",
        help="The stock room; without it BLANKWRIGHT_ROOM, the profile, or your own data folder.",
    ),
]

PlanFolder = Annotated[
    Path, typer.Argument(metavar="PLAN", help="The folder that the command plan wrote.")
]


def printing(value: str) -> str:
    """What was typed. Raises BadParameter: it would act on a screen that shows it later."""
    if CONTROLS.search(value):
        raise typer.BadParameter(f"{shortened(printable(value))} {NOT_PRINTED}. Type it anew.")
    return value


Remark = Annotated[
    str,
    typer.Option(
        "--note", metavar="TEXT", callback=printing, help="Is kept beside the step in the history."
    ),
]

LONGEST = 24 * 3600
"""Seconds that a search may take."""


def check_seconds(value: float) -> float:
    """The time for a search, or what is wrong with it."""
    if not 0 < value <= LONGEST:
        raise typer.BadParameter(f"{value:g} is not more than 0 and up to {LONGEST}.")
    return value
