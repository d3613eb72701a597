"""`blankwright profile`: the settings of a shop."""

from __future__ import annotations

import typer


def profile() -> None:
    """Print the default settings of a shop, each with its source.

    A shop's own profile is a file with those lines that differ.
    """
    from takeoff.profile import default_text  # noqa: PLC0415 - slow to load

    typer.echo(default_text(), nl=False)
