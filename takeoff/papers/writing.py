"""All papers of a plan, written as one folder."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from concurrent.futures import Executor
from enum import StrEnum
from pathlib import Path

from . import (
    blanks_csv,
    cuts_csv,
    from_stock_csv,
    hardware_csv,
    order_csv,
    packet_pdf,
    plots,
    report_html,
    xlsx,
)
from .beside import RightHere
from .contents import Contents
from .folder import PLAN_FILE, write_folder
from .patterns import pattern_files
from .plan_json import plan_json

PATTERNS = "dxf"
"""The folder of the pattern files."""


class Extra(StrEnum):
    """Papers that take a while, or that not every shop wants."""

    PACKET = "packet"
    PATTERNS = "patterns"


def write_all(
    contents: Contents,
    out: Path,
    force: bool = False,
    extras: Collection[Extra] = (Extra.PACKET,),
    beside: Executor | None = None,
) -> list[Path]:
    """Write every paper of a plan, all or none.

    Args:
        contents: of the solved job.
        out: the folder to write; see `takeoff.papers.folder.write_folder`.
        force: whether a plan that is there may be replaced.
        extras: the papers that are written when they are asked for.
        beside: draws the sheets while the other papers are written; None: they are drawn first.

    Returns:
        The files, in the order a person wants them.

    Raises:
        PlanExists, CannotWrite: see `write_folder`.
    """
    names: list[str] = []

    def fill(folder: Path) -> None:
        names[:] = _write(contents, folder, extras, beside or RightHere())

    write_folder(out, force, fill)
    return [out / name for name in names]


def load() -> None:
    """Import what the papers that are made beside the others need."""
    plots.load()
    xlsx.load()


def _write(
    contents: Contents, folder: Path, extras: Collection[Extra], beside: Executor
) -> list[str]:
    """Every file; plan.json last, since it lists the others."""
    job = contents.plan.job
    sheets = beside.submit(plots.sheet_plots, contents.layouts, job.unit, job.name)
    workbook = beside.submit(xlsx.job_xlsx, contents)
    texts = {
        report_html.NAME: report_html.report_html(contents),
        blanks_csv.NAME: blanks_csv.blanks_csv(contents),
        order_csv.NAME: order_csv.order_csv(contents),
        cuts_csv.NAME: cuts_csv.cuts_csv(contents),
        hardware_csv.NAME: hardware_csv.hardware_csv(contents),
    }
    if contents.plan.room is not None:
        texts[from_stock_csv.NAME] = from_stock_csv.from_stock_csv(contents)
    for name, text in texts.items():
        _save(folder / name, text)
    names = [*texts, xlsx.NAME]
    if Extra.PACKET in extras:
        packet_pdf.write_packet(contents, folder / packet_pdf.NAME)
        names.insert(1, packet_pdf.NAME)
    patterns = _patterns(contents, folder) if Extra.PATTERNS in extras else []
    names += [*_save_plots(sheets.result(), folder), *patterns]
    (folder / xlsx.NAME).write_bytes(workbook.result())
    _save(folder / PLAN_FILE, plan_json(contents, names))
    return [*names, PLAN_FILE]


def _save_plots(plots: Iterable[tuple[str, bytes]], folder: Path) -> list[str]:
    """The sheets' drawings, in a folder of their own."""
    names = []
    for name, png in plots:
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(png)
        names.append(name)
    return names


def _patterns(contents: Contents, folder: Path) -> list[str]:
    """The pattern files, in a folder of their own."""
    (folder / PATTERNS).mkdir()
    blanks = [blank for line in contents.plan.lines for blank in line.blanks]
    written = pattern_files(blanks, contents.plan.job.unit, folder / PATTERNS)
    return [f"{PATTERNS}/{name}" for names in written for name in names]


def _save(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
