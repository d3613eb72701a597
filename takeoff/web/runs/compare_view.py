"""What the page shows of a comparison, worked out once by the process that made it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from shutil import rmtree
from typing import Any

from takeoff.advice import WARNING
from takeoff.bill.money import show as money
from takeoff.compare.bars import bars
from takeoff.compare.choices import AS_WRITTEN
from takeoff.compare.results import Comparison, Row
from takeoff.compare.table import verdict
from takeoff.papers.svg import svg

from .plan_view import SUMMARY


def write_view(comparison: Comparison, files: Sequence[str], folder: Path) -> None:
    """Write everything into a new folder, in place of what was there."""
    rmtree(folder, ignore_errors=True)
    folder.mkdir()
    light = any(row.outcome.too_light for row in comparison.rows)
    record = {
        "rows": [_row(row, comparison) for row in comparison.rows],
        "asked": comparison.asked,
        "chart": svg(bars(comparison)),
        "verdict": list(verdict(comparison)),
        "light": f"Code table ({comparison.table}). {WARNING}" if light else "",
        "price_notes": comparison.price_notes,
        "files": list(files),
    }
    (folder / SUMMARY).write_text(json.dumps(record, ensure_ascii=False), encoding="utf-8")


def _row(row: Row, comparison: Comparison) -> dict[str, Any]:
    figures = row.figures
    record: dict[str, Any] = {"name": row.choice.name, "note": row.note, "figures": None}
    if figures is not None:
        itself = row.choice == AS_WRITTEN
        record["figures"] = {
            "cost": money(figures.cost),
            "saves": "" if itself else _money(row.saves),
            "weight": f"{float(figures.weight):.1f}",
            "saves_weight": "" if itself else _pounds(row.saves_weight),
            "used": f"{figures.used:.1%}",
            "sheets": figures.sheets,
        }
    record["best"] = row is comparison.cheapest
    return record


def _money(amount: Fraction | None) -> str:
    return "" if amount is None else money(amount)


def _pounds(weight: Fraction | None) -> str:
    return "" if weight is None else f"{float(weight):.1f}"
