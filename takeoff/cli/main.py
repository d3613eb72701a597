"""The command `blankwright`: its sub-commands, and what a person sees when something is wrong."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Callable, Sequence
from typing import Annotated, NoReturn

import typer

from .check import check
from .commit import commit, cut, release, undo
from .compare import compare
from .explain import explain
from .fittings import fittings
from .outcome import INTERRUPTED, WRONG_INPUT, complain, stoppable
from .patterns import patterns
from .plan import plan
from .profile import profile
from .rack import rack
from .serve import serve
from .stock import stock

NAME = "blankwright"
DEBUG = "BLANKWRIGHT_DEBUG"
"""Environment variable: when it is set, an unexpected error shows where it happened."""

FAILED = 70
"""Exit code of an error in this program (EX_SOFTWARE of sysexits.h)."""

app = typer.Typer(
    name=NAME,
    help="From a job list of sheet-metal duct fittings to blanks, nested sheets and papers.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,  # plain help, and rich is not loaded for it
)
_COMMANDS: tuple[Callable[..., None], ...] = (
    plan,
    check,
    compare,
    explain,
    patterns,
    commit,
    cut,
    release,
    undo,
    fittings,
    profile,
    serve,
)
for _command in _COMMANDS:
    app.command()(stoppable(_command))
app.add_typer(stock, name="stock")
app.add_typer(rack, name="rack")


def _show_version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import PackageNotFoundError, version  # noqa: PLC0415 - rarely needed

        try:
            typer.echo(f"{NAME} {version(NAME)}")
        except PackageNotFoundError:
            typer.echo(f"{NAME}, run from its source without being installed")
        raise typer.Exit


@app.callback()
def main(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_show_version, is_eager=True, help="Tell the version."),
    ] = False,
) -> None:
    """From a job list of sheet-metal duct fittings to blanks, nested sheets and papers."""


def run(arguments: Sequence[str] | None = None) -> NoReturn:
    """The entry point: run a command and leave with its exit code.

    0 is done, 1 done with blanks left over, 2 something wrong with what was given.
    """
    from takeoff.errors import TakeoffError  # noqa: PLC0415 - after the parsing it costs nothing

    try:
        app(args=arguments, prog_name=NAME)
    except TakeoffError as error:
        complain(error)
        sys.exit(WRONG_INPUT)
    except KeyboardInterrupt:  # before a command has begun
        sys.exit(INTERRUPTED)
    except Exception as error:
        sys.exit(_report(error))
    sys.exit(0)


def _report(error: Exception) -> int:
    if os.environ.get(DEBUG):
        traceback.print_exception(error)
    kind = type(error).__name__
    typer.echo(
        f"An error in this program, not in your job ({kind}: {error}). Nothing was written. "
        f"Please send the job list and what {DEBUG}=1 shows to whoever gave you the program.",
        err=True,
    )
    return FAILED
