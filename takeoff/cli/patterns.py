"""`blankwright patterns`: every blank of a job at full size, for a plotter or a cutting table."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import JobFile, ProfileFile, StockFile


def patterns(
    job: JobFile,
    out: Annotated[
        Path,
        typer.Option("--out", metavar="DIR", help="The folder to write; the command makes it."),
    ],
    stock: StockFile = None,
    profile: ProfileFile = None,
    force: Annotated[
        bool, typer.Option("--force", help="Replace pattern files that are there.")
    ] = False,
) -> None:
    """Write a DXF and an SVG file for every blank, at full size."""
    from takeoff.cli.given import read_given  # noqa: PLC0415 - slow to load
    from takeoff.papers.folder import PATTERNS_FILE, check_free  # noqa: PLC0415 - slow to load
    from takeoff.papers.patterns import write_patterns  # noqa: PLC0415 - slow to load

    check_free(out, force, PATTERNS_FILE)
    given = read_given(job, stock, profile)
    files = write_patterns(given.job, given.lines, out, force)
    blanks = sum(len(line.blanks) for line in given.lines)
    typer.echo(f"Written to {out}: {len(files) - 1} files for {blanks} blanks, {PATTERNS_FILE}")
