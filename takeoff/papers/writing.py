"""All papers of a plan, written as one folder."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from takeoff.materials import SheetMetal
from takeoff.nest import JobPlan

from . import blanks_csv, cuts_csv, hardware_csv, order_csv, report_html
from .contents import NO_BASELINES, Baseline, Contents, contents
from .folder import PLAN_FILE, write_folder
from .plan_json import plan_json
from .plots import sheet_plots


def write_all(
    plan: JobPlan,
    out: Path,
    force: bool = False,
    baselines: Mapping[SheetMetal, Baseline] = NO_BASELINES,
) -> list[Path]:
    """Write every paper of a plan, all or none.

    Args:
        plan: the solved job.
        out: the folder to write; see `takeoff.papers.folder.write_folder`.
        force: whether a plan that is there may be replaced.
        baselines: what another packer makes of a metal's blanks, where it was tried.

    Returns:
        The files, in the order a person wants them.

    Raises:
        PlanExists, CannotWrite: see `write_folder`.
    """
    everything = contents(plan, baselines)
    names: list[str] = []

    def fill(folder: Path) -> None:
        names[:] = _write(everything, folder)

    write_folder(out, force, fill)
    return [out / name for name in names]


def _write(contents: Contents, folder: Path) -> list[str]:
    """Every file; plan.json last, since it lists the others."""
    job = contents.plan.job
    texts = {
        report_html.NAME: report_html.report_html(contents),
        blanks_csv.NAME: blanks_csv.blanks_csv(contents),
        order_csv.NAME: order_csv.order_csv(contents),
        cuts_csv.NAME: cuts_csv.cuts_csv(contents),
        hardware_csv.NAME: hardware_csv.hardware_csv(contents),
    }
    for name, text in texts.items():
        _save(folder / name, text)
    names = [*texts, *sheet_plots(contents.layouts, job.unit, job.name, folder)]
    _save(folder / PLAN_FILE, plan_json(contents, names))
    return [*names, PLAN_FILE]


def _save(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
