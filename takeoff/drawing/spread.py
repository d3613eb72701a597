"""Keeping written things apart along a line."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], step: float) -> list[float]:
    """Places at least a step apart, in order, as near to those wanted as can be.

    Runs of places that would crowd are laid out evenly round the middle of what they wanted.

    Args:
        wanted: in order.
        step: in the same unit.
    """
    runs: list[list[float]] = []
    for want in wanted:
        runs.append([want])
        while len(runs) > 1 and _start(runs[-1], step) < _end(runs[-2], step) + step:
            crowded = runs.pop()
            runs[-1] += crowded
    return [_start(run, step) + place * step for run in runs for place in range(len(run))]


def _start(run: Sequence[float], step: float) -> float:
    return sum(run) / len(run) - (len(run) - 1) * step / 2


def _end(run: Sequence[float], step: float) -> float:
    return sum(run) / len(run) + (len(run) - 1) * step / 2
