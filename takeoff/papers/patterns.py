"""A folder of pattern files: every blank of a job at full size, in DXF and in SVG."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from takeoff.blanks import JobBlank
from takeoff.drawing.strokes import strokes
from takeoff.lengths import Unit

from .dxf import pattern_dxf
from .pattern_svg import pattern_svg


def write_patterns(blanks: Iterable[JobBlank], unit: Unit, folder: Path) -> list[Path]:
    """Two files for each blank, named after it; the paths written, in order."""
    known = list(blanks)
    return [
        path
        for blank, name in zip(known, file_names(known), strict=True)
        for path in _write(blank, unit, folder, name)
    ]


def file_names(blanks: Iterable[JobBlank]) -> list[str]:
    """A file name for each blank, without its ending: letters and digits, no two alike."""
    names: list[str] = []
    for blank in blanks:
        plain = re.sub(r"[^A-Za-z0-9]+", "-", blank.name).strip("-") or "piece"
        copies = sum(name == plain or name.startswith(f"{plain}--") for name in names)
        names.append(f"{plain}--{copies + 1}" if copies else plain)
    return names


def _write(blank: JobBlank, unit: Unit, folder: Path, name: str) -> Iterator[Path]:
    drawn = strokes(blank.piece, f"{blank.name} x {blank.qty}", unit)
    dxf = folder / f"{name}.dxf"
    pattern_dxf(drawn, unit).saveas(dxf)
    yield dxf
    svg = folder / f"{name}.svg"
    svg.write_text(pattern_svg(drawn, blank.name, unit), encoding="utf-8")
    yield svg
