"""A folder of pattern files: every blank of a job at full size, in DXF and in SVG."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from takeoff.blanks import JobBlank, MadeLine
from takeoff.drawing.strokes import strokes
from takeoff.jobs.job import Job
from takeoff.lengths import Unit

from .dxf import pattern_dxf
from .folder import PATTERNS_FILE, write_folder
from .pattern_svg import pattern_svg


def write_patterns(
    job: Job, lines: Sequence[MadeLine], out: Path, force: bool = False
) -> list[Path]:
    """A folder with two files for each blank, and an index that tells which is what.

    Args:
        job: the job list.
        lines: its fittings taken apart.
        out: the folder to write, whole or not at all.
        force: whether pattern files that are there may be replaced.

    Returns:
        The files, in order of the blanks, the index last.

    Raises:
        PlanExists, CannotWrite: see `takeoff.papers.folder.write_folder`.
    """
    blanks = [blank for line in lines for blank in line.blanks]
    written: list[str] = []

    def fill(folder: Path) -> None:
        files = list(pattern_files(blanks, job.unit, folder))
        records = [_record(blank, mine) for blank, mine in zip(blanks, files, strict=True)]
        written.extend(name for mine in files for name in mine)
        index = {"job": job.name, "unit": job.unit.name, "blanks": records, "files": written}
        (folder / PATTERNS_FILE).write_text(json.dumps(index, indent=1), encoding="utf-8")

    write_folder(out, force, fill, PATTERNS_FILE)
    return [out / name for name in (*written, PATTERNS_FILE)]


def pattern_files(
    blanks: Sequence[JobBlank], unit: Unit, folder: Path
) -> Iterator[tuple[str, str]]:
    """Write the files of every blank into a folder; gives their names, a pair each."""
    for blank, name in zip(blanks, file_names(blanks), strict=True):
        yield _write(blank, unit, folder, name)


def _record(blank: JobBlank, files: Sequence[str]) -> dict[str, object]:
    return {
        "blank": blank.name,
        "mark": blank.mark,
        "fitting": blank.fitting,
        "qty": blank.qty,
        "width_in": float(blank.width),
        "length_in": float(blank.length),
        "files": list(files),
    }


def file_names(blanks: Iterable[JobBlank]) -> list[str]:
    """A file name for each blank, without its ending: letters and digits, no two alike."""
    names: list[str] = []
    for blank in blanks:
        plain = re.sub(r"[^A-Za-z0-9]+", "-", blank.name).strip("-") or "piece"
        copies = sum(name == plain or name.startswith(f"{plain}--") for name in names)
        names.append(f"{plain}--{copies + 1}" if copies else plain)
    return names


def _write(blank: JobBlank, unit: Unit, folder: Path, name: str) -> tuple[str, str]:
    drawn = strokes(blank.piece, f"{blank.name} x {blank.qty}", unit)
    dxf, svg = f"{name}.dxf", f"{name}.svg"
    pattern_dxf(drawn, unit).saveas(folder / dxf)
    (folder / svg).write_text(pattern_svg(drawn, blank.name, unit), encoding="utf-8")
    return dxf, svg
