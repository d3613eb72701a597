"""How a command ends: exit codes, and what is told on standard error."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec

import typer

from takeoff.errors import TakeoffError, printable

LEFT_OVER = 1
"""The plan is written, but the stock ran out before every blank was placed."""

WRONG_INPUT = 2
INTERRUPTED = 130

_Arguments = ParamSpec("_Arguments")

MOST_FAULTS = 100
"""So many are shown; a list with more has one fault behind them all."""


def stoppable(command: Callable[_Arguments, None]) -> Callable[_Arguments, None]:
    """The command, which Ctrl-C ends with one sentence and an exit code of its own."""

    @wraps(command)
    def run(*args: _Arguments.args, **options: _Arguments.kwargs) -> None:
        try:
            command(*args, **options)
        except KeyboardInterrupt:
            typer.echo("Stopped. Nothing was written.", err=True)
            raise typer.Exit(INTERRUPTED) from None

    return run


def complain(error: TakeoffError) -> None:
    """The message of an error, one line a fault."""
    told = printable(str(error)).splitlines()
    for line in told[: MOST_FAULTS + 1]:
        typer.echo(line, err=True)
    if len(told) > MOST_FAULTS + 1:
        typer.echo(f"  and {len(told) - MOST_FAULTS - 1} more faults", err=True)
