"""Gauges held against the code table that the shop has chosen.

The least gauge of a fitting is that of its open ends: of each the larger side or the diameter, and
of several ends the heaviest. It is advice: the local code and a licensed contractor decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.codes import NO_EDITION, Shape, least, rows
from takeoff.errors import TakeoffError
from takeoff.fittings import Fitting
from takeoff.fittings.base import OpenEnd
from takeoff.jobs.job import Advice, JobLine, Kind
from takeoff.lengths import Length, Unit, show_with_unit
from takeoff.materials import gauges
from takeoff.settings import Code

WARNING = (
    "A gauge by a table is advice, not a permit: the local code and a licensed contractor decide."
)


@dataclass(frozen=True)
class Least:
    """The least gauge for a fitting, and the open end that asks for it."""

    gauge: int
    end: OpenEnd


class NoGauge(TakeoffError, LookupError):
    """The table has no gauge for a fitting.

    Attributes:
        kind: BEYOND or UNTABLED; None where the fitting has no size to ask with.
        problem: why, as a clause: "the bottom is 22 in, and ... ends at 20 in".
        allowed: what to do, as a sentence.
    """

    def __init__(self, kind: Kind | None, problem: str, allowed: str) -> None:
        self.kind = kind
        self.problem = problem
        self.allowed = allowed
        super().__init__(f"{problem}. {allowed}")


def least_gauge(fitting: Fitting, metal: str, code: Code, unit: Unit) -> Least:
    """The least gauge that the table allows.

    Args:
        fitting: whose open ends give the size.
        metal: its material.
        code: the table and the conditions.
        unit: that sizes are told in.

    Raises:
        NoGauge: the table does not reach so far, lacks the metal or shape, or there is no size.
    """
    if code.edition == NO_EDITION:
        advice = "Give a number, or choose an edition under [code] in the shop profile."
        raise NoGauge(None, "the shop profile chooses no code table", advice)
    found = [_of_end(end, metal, code, unit) for end in fitting.open_ends()]
    if not found:
        problem = f"a {fitting.kind} without an open end has no size to look up"
        raise NoGauge(None, problem, "Give a number.")
    return min(found, key=lambda each: each.gauge)


def choose(fitting: Fitting, metal: str, code: Code, unit: Unit) -> int:
    """The gauge for `gauge = auto`: the least allowed that the shop works with.

    Raises:
        NoGauge: as `least_gauge`.
    """
    wanted = min(least_gauge(fitting, metal, code, unit).gauge, code.lightest)
    return max(gauge for gauge in gauges(metal) if gauge <= wanted)


def advise(lines: Sequence[JobLine], code: Code, unit: Unit) -> tuple[Advice, ...]:
    """What the table says of the rows, where it says anything; in the order of the list."""
    found = (_advice(line, code, unit) for line in lines)
    return tuple(each for each in found if each is not None)


def _advice(line: JobLine, code: Code, unit: Unit) -> Advice | None:
    try:
        least = least_gauge(line.fitting, line.metal.material, code, unit)
    except NoGauge as none:
        return none.kind and Advice(line.row, line.mark, none.kind, _whole(none.problem))
    asked = f"{least.gauge} ga or heavier for its {_told(least.end, unit)}"
    table = code.conditions.label
    if line.metal.gauge > least.gauge:
        sentence = f"{line.metal.name} is lighter than {table} allows: {asked}."
        return Advice(line.row, line.mark, Kind.LIGHTER, sentence)
    if line.auto_gauge:
        sentence = f"{line.metal.name}; {table} asks for {asked}."
        return Advice(line.row, line.mark, Kind.CHOSEN, sentence)
    return None


def _of_end(end: OpenEnd, metal: str, code: Code, unit: Unit) -> Least:
    shape, size = _size(end)
    conditions = code.conditions
    if row := least(metal, shape, size, conditions):
        return Least(row.gauge, end)
    known = rows(metal, shape, conditions)
    if not known:
        problem = f"{conditions.label} has no line for {shape} duct of {metal}"
        advice = "Give a number, or choose another edition under [code] in the shop profile."
        raise NoGauge(Kind.UNTABLED, problem, advice)
    limit = known[-1].up_to or known[-1].below
    reach = f" ends at {show_with_unit(limit, unit)}" if limit else " does not reach so far"
    problem = f"its {_told(end, unit)} is too large: {conditions.label}{reach}"
    advice = (
        "Give the number that your local code or the duct-construction standard asks for, or "
        "choose an edition under [code] in the shop profile that reaches so far."
    )
    raise NoGauge(Kind.BEYOND, problem, advice)


def _size(end: OpenEnd) -> tuple[Shape, Length]:
    if end.diameter is not None:
        return "round", end.diameter
    return "rectangular", max(end.width or 0, end.height or 0)


def _told(end: OpenEnd, unit: Unit) -> str:
    """`end 1 of 20 in`: the end and the size that the table is asked for."""
    return f"{end.name} of {show_with_unit(_size(end)[1], unit)}"


def _whole(clause: str) -> str:
    return f"{clause[:1].upper()}{clause[1:]}."
