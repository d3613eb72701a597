"""The comparison as a chart: cost, weight, used share and sheets, legible in black and white."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from takeoff.bill.money import show as money

from .choices import AS_WRITTEN
from .results import Comparison, Row
from .work import Figures

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

DPI = 150
WIDTH = 11.0
"""Inches; a landscape page."""

ROW, FRAME = 0.34, 1.7
"""Inches: each choice, and what is above and below them."""

PLAIN, BEST, LIGHT = "0.78", "0.35", "white"
"""Greys of the bars: usual, cheapest, and (hatched) lighter than the code table allows."""

LONGEST_REASON = 48
"""Letters that fit in the first panel; the table has the whole of it."""

_BLANK = {"facecolor": "white", "edgecolor": "none", "pad": 0.8}
"""Behind a number, so that the dashed line does not cross it."""

_Measure = tuple[str, Callable[[Figures], float], Callable[[Figures], str]]
MEASURES: Sequence[_Measure] = (
    ("Cost", lambda each: float(each.cost), lambda each: money(each.cost)),
    ("Weight, lb", lambda each: float(each.weight), lambda each: f"{float(each.weight):,.0f}"),
    ("Used, %", lambda each: 100 * each.used, lambda each: f"{100 * each.used:.1f}"),
    ("Sheets", lambda each: float(each.sheets), lambda each: str(each.sheets)),
)


def chart(comparison: Comparison) -> Figure:
    """A figure with one panel a measure and one bar a choice."""
    from matplotlib.figure import Figure  # noqa: PLC0415 - slow to load

    height = FRAME + ROW * max(len(comparison.rows), 1)
    figure = Figure(figsize=(WIDTH, height), dpi=DPI, layout="constrained")
    panels = figure.subplots(1, len(MEASURES), sharey=True, width_ratios=(1.35, 1, 1, 1))
    for ax, measure in zip(panels, MEASURES, strict=True):
        _panel(ax, measure, comparison)
    _label(panels[0], comparison)
    figure.suptitle(comparison.job, fontsize=11, fontweight="bold", parse_math=False)
    figure.supxlabel(_key(comparison), fontsize=8)
    return figure


def save_chart(comparison: Comparison, path: Path) -> None:
    """Write the chart as a PNG."""
    chart(comparison).savefig(path, format="png")


def _panel(ax: Axes, measure: _Measure, comparison: Comparison) -> None:
    name, value, told = measure
    written = comparison.as_written
    values = [value(row.figures) if row.figures else 0.0 for row in comparison.rows]
    bars = ax.barh(range(len(values)), values, height=0.7, edgecolor="black", linewidth=0.7)
    for bar, row in zip(bars, comparison.rows, strict=True):
        bar.set_facecolor(_grey(row, comparison))
        bar.set_hatch("////" if row.outcome.too_light else "")
        bar.set_visible(row.figures is not None)
    top = max(values, default=0.0) or 1.0
    for place, row in enumerate(comparison.rows):
        if row.figures:
            at = values[place] + top * 0.025
            ax.text(at, place, told(row.figures), va="center", fontsize=8, bbox=_BLANK)
    if written is not None and written.figures is not None:
        ax.axvline(value(written.figures), color="black", linewidth=0.9, linestyle=(0, (4, 3)))
    ax.set_xlim(0, top * 1.32)
    ax.set_title(name, fontsize=9, loc="left")
    ax.set_xticks([])  # every bar has its number
    ax.tick_params(axis="y", length=0)
    ax.spines[["top", "right", "bottom"]].set_visible(False)


def _label(ax: Axes, comparison: Comparison) -> None:
    """Name the choices, tell why one cannot be made, and put the first on top."""
    names = [row.choice.name for row in comparison.rows]
    ax.set_yticks(range(len(names)), names, fontsize=8, parse_math=False)
    for place, row in enumerate(comparison.rows):
        if row.figures is None:
            told = f" {_short(row.note)}"
            text = ax.text(0, place, told, va="center", fontsize=7, bbox=_BLANK, parse_math=False)
            text.set_in_layout(False)
    ax.set_ylim(len(names) - 0.5, -0.5)


def _grey(row: Row, comparison: Comparison) -> str:
    if row.outcome.too_light:
        return LIGHT
    return BEST if row is comparison.cheapest else PLAIN


def _key(comparison: Comparison) -> str:
    told = ["dark: cheapest"]
    if any(row.outcome.too_light for row in comparison.rows):
        told = [
            "dark: cheapest that the code table does not find too light",
            "hatched: a gauge lighter than the code table allows",
        ]
    if any(row.choice == AS_WRITTEN for row in comparison.rows):
        told.append("dashed line: the job as written")
    return ";  ".join(told)


def _short(reason: str) -> str:
    if len(reason) <= LONGEST_REASON:
        return reason
    return f"{reason[: LONGEST_REASON - 3]}..."
