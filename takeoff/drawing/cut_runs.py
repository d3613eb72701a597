"""Cuts that follow each other and are alike, told as one: the stop is set once for all of them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from takeoff.layouts import ShearCut


@dataclass(frozen=True)
class CutRun:
    """Equal strokes of the shear on one part, from the first to the last.

    The last cut tells what is left on the table.
    """

    first: ShearCut
    last: ShearCut

    @property
    def times(self) -> int:
        """How many cuts they are."""
        return self.last.number - self.first.number + 1

    @property
    def numbers(self) -> str:
        """`7`, or `7-33`."""
        first, last = self.first.number, self.last.number
        return str(first) if first == last else f"{first}-{last}"

    @property
    def falls_off(self) -> str:
        """What drops behind the blade each time: `D1 cap`, or `strip 1 to 30` one by one."""
        first, last = self.first.falls_off, self.last.falls_off
        return first if first == last else f"{first} to {_strip(last)}"


def cut_runs(cuts: Iterable[ShearCut]) -> list[CutRun]:
    """The cuts in their order, those alike taken together."""
    runs: list[CutRun] = []
    for cut in cuts:
        if runs and _alike(runs[-1].last, cut):
            runs[-1] = CutRun(runs[-1].first, cut)
        else:
            runs.append(CutRun(cut, cut))
    return runs


def _alike(before: ShearCut, cut: ShearCut) -> bool:
    """Whether a cut repeats the one before, or cuts the next strip as wide as that one."""
    one, other = _strip(before.falls_off), _strip(cut.falls_off)
    same_thing = before.falls_off == cut.falls_off
    next_strip = one is not None and other == one + 1
    repeated = replace(cut, number=before.number, falls_off=before.falls_off, stays="")
    return repeated == before and (same_thing or next_strip)


def _strip(name: str) -> int | None:
    """The number of a strip; None for anything else."""
    found = re.fullmatch(r"strip (\d+)", name)
    return int(found[1]) if found else None
