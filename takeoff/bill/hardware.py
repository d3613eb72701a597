"""What a job needs beside its sheets, each line with where its number comes from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from takeoff.blanks import MadeLine
from takeoff.lengths import Unit
from takeoff.settings import Profile

from .cleats import cleat_lines
from .counted import EACH, Counted, HardwareLine, count
from .fasteners import rivet_lines, screw_lines
from .hangers import hanger_lines
from .money import exactly
from .sealing import sealing_lines


def hardware(lines: Sequence[MadeLine], profile: Profile, unit: Unit) -> tuple[HardwareLine, ...]:
    """Everything that rows of a job need, priced where the profile has a price.

    Args:
        lines: the rows, taken apart.
        profile: the shop's settings.
        unit: that sizes are told in.
    """
    job = count(lines, profile, unit)
    counted = (
        *cleat_lines(job),
        *rivet_lines(job),
        *screw_lines(job),
        *sealing_lines(job),
        *hanger_lines(job),
        *_asked_for(job),
    )
    return tuple(_priced(line, profile) for line in counted if line.qty)


def _asked_for(job: Counted) -> Iterator[HardwareLine]:
    """What the fittings themselves name: filters, vanes, bolts, latches."""
    found: Counter[tuple[str, str]] = Counter()
    marks: dict[tuple[str, str], list[str]] = {}
    for row in job.lines:
        for item in row.made.hardware:
            found[item.what, item.note] += item.qty * row.line.qty
            marks.setdefault((item.what, item.note), []).append(row.line.mark)
    for (what, note), qty in found.items():
        listed = ", ".join(dict.fromkeys(marks[what, note]))
        yield HardwareLine(what, note, Fraction(qty), EACH, f"asked for by {listed}")


def _priced(line: HardwareLine, profile: Profile) -> HardwareLine:
    """The line at the profile's price where it has one."""
    price = profile.prices.hardware.get(line.what)
    return line if price is None else replace(line, unit_cost=exactly(price))
