"""The comparison as files: a table for a spreadsheet, and the chart."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from takeoff.bill.money import show
from takeoff.errors import TakeoffError
from takeoff.jobs.cells import guarded

from .chart import save_chart
from .results import Comparison, Row

TABLE, CHART = "comparison.csv", "comparison.png"
COLUMNS = (
    "choice",
    "material",
    "gauge",
    "sheet",
    "prices",
    "cost",
    "saves",
    "weight_lb",
    "saves_lb",
    "used",
    "sheets",
    "note",
)


class CannotWriteComparison(TakeoffError, OSError):
    """A file of a comparison is in the way, or the disk refused."""


def check_free(out: Path, force: bool) -> None:
    """Ask before the long work whether the files may be written. Raises CannotWriteComparison."""
    if out.exists() and not out.is_dir():
        raise CannotWriteComparison(f"{out} is a file. Give a folder.")
    for name in (TABLE, CHART):
        if (out / name).exists() and not force:
            raise CannotWriteComparison(
                f"{out} already holds {name}. Give another folder, or --force to replace it."
            )


def write(comparison: Comparison, out: Path) -> list[Path]:
    """Write table and chart into a folder, which is made where it lacks.

    Each is written beside its place and put there when it is complete.

    Raises:
        CannotWriteComparison: the disk refused.
    """
    files = [out / TABLE, out / CHART]
    asides = [file.with_name(f".{file.name}") for file in files]
    try:
        out.mkdir(parents=True, exist_ok=True)
        asides[0].write_text(comparison_csv(comparison), encoding="utf-8", newline="")
        save_chart(comparison, asides[1])
        for aside, file in zip(asides, files, strict=True):
            aside.replace(file)
    except OSError as error:
        reason = error.strerror or str(error)
        raise CannotWriteComparison(f"Nothing could be written to {out}: {reason}.") from error
    finally:
        for aside in asides:
            aside.unlink(missing_ok=True)
    return files


def comparison_csv(comparison: Comparison) -> str:
    """One line for each finished choice; figures it lacks are blank."""
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(COLUMNS)
    for row in comparison.rows:
        rows.writerow([guarded(cell) for cell in _cells(row)])
    return out.getvalue()


def _cells(row: Row) -> list[str]:
    choice, figures = row.choice, row.figures
    names = [
        choice.name,
        choice.material or "",
        str(choice.gauge) if choice.gauge is not None else "",
        choice.sheet.name if choice.sheet else "",
        choice.prices or "",
    ]
    if figures is None:
        return [*names, *[""] * 6, row.note]
    return [
        *names,
        _plain(show(figures.cost)),
        "" if row.saves is None else _plain(show(row.saves)),
        f"{float(figures.weight):.2f}",
        "" if row.saves_weight is None else f"{float(row.saves_weight):.2f}",
        f"{figures.used:.4f}",
        str(figures.sheets),
        row.note,
    ]


def _plain(amount: str) -> str:
    return amount.replace(",", "")
