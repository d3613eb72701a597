"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

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
