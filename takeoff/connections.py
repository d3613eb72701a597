"""Which open ends of a job's fittings join: the check of `connects_to`.

Two ends fit when their openings are of one size (a fitting may be rolled a quarter) and what is
done to their edges goes together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from takeoff.errors import Fault, nearest
from takeoff.fittings.base import OpenEnd
from takeoff.jobs.job import JobLine
from takeoff.lengths import INCH, Length, Unit, show

COLUMN = "connects_to"
NEAR = 1e-6
"""Inches within which two openings are of one size."""

MATES: Mapping[str, frozenset[str]] = {
    "raw": frozenset({"raw", "slip", "crimp", "small end", "flange in"}),
    "slip": frozenset({"slip", "raw"}),
    "crimp": frozenset({"raw"}),
    "small end": frozenset({"raw"}),
    "flange in": frozenset({"raw"}),
    "hem": frozenset(),
    "bearing flange": frozenset(),
    "dovetail": frozenset(),
}
"""What each end can be joined to; an end that is not listed joins its like. A flat S slip takes two
raw edges, a crimped or small end goes into a raw one, a cap's flange goes over one; a hem is
finished, a bearing flange carries equipment, tabs go through a hole. Common practice, no source."""


@dataclass(frozen=True)
class Connection:
    """Two open ends that are joined: the lines they are on and the ends themselves."""

    first: JobLine
    first_end: OpenEnd
    second: JobLine
    second_end: OpenEnd


def connections(
    lines: Sequence[JobLine], unit: Unit = INCH
) -> tuple[tuple[Connection, ...], tuple[Fault, ...]]:
    """The ends that `connects_to` joins, and a fault for every mark that cannot be joined.

    Every end is joined once. Where two rows name each other, that is one connection.

    Args:
        lines: the job's rows.
        unit: that sizes are told in.
    """
    at_mark = {line.mark.casefold(): line for line in lines}
    faults: list[Fault] = []
    wanted: dict[frozenset[str], tuple[JobLine, JobLine]] = {}
    for line in lines:
        for mark in line.fitting.connects_to:
            other = at_mark.get(mark.casefold())
            if other is None or other is line:
                faults.append(_no_such(line, mark, other, lines))
            else:
                wanted.setdefault(frozenset({line.mark, other.mark}), (line, other))
    found: list[Connection] = []
    taken: set[tuple[str, str]] = set()
    # those with the fewest ways to be joined choose first
    for line, other in sorted(wanted.values(), key=lambda pair: len(list(_fits(*pair)))):
        free = [
            fit
            for fit in _fits(line, other)
            if (line.mark, fit[0].name) not in taken and (other.mark, fit[1].name) not in taken
        ]
        if not free:
            faults.append(_no_fit(line, other, unit))
            continue
        mine, its = free[0]
        taken |= {(line.mark, mine.name), (other.mark, its.name)}
        found.append(Connection(line, mine, other, its))
    return tuple(found), tuple(sorted(faults, key=lambda fault: fault.row or 0))


def same_opening(a: OpenEnd, b: OpenEnd) -> bool:
    """Whether two ends open alike: one diameter, or one width and height, either way up."""
    first, second = _size(a), _size(b)
    return len(first) == len(second) and all(
        abs(float(p) - float(q)) < NEAR for p, q in zip(first, second, strict=True)
    )


def ends_join(a: str, b: str) -> bool:
    """Whether two treatments go together."""
    return b in MATES.get(a, {a}) and a in MATES.get(b, {b})


def _size(end: OpenEnd) -> tuple[Length, ...]:
    if end.diameter is not None:
        return (end.diameter,)
    return tuple(sorted(side for side in (end.width, end.height) if side is not None))


def _fits(line: JobLine, other: JobLine) -> Iterator[tuple[OpenEnd, OpenEnd]]:
    for mine in line.fitting.open_ends():
        for its in other.fitting.open_ends():
            if same_opening(mine, its) and ends_join(mine.treatment, its.treatment):
                yield mine, its


def _no_such(line: JobLine, mark: str, other: JobLine | None, lines: Iterable[JobLine]) -> Fault:
    if other is line:
        return Fault(line.row, COLUMN, mark, "is its own mark", "Give the mark of another row.")
    marks = [each.mark for each in lines if each is not line]
    return Fault(line.row, COLUMN, mark, "is no mark of this job", nearest(mark, marks))


def _no_fit(line: JobLine, other: JobLine, unit: Unit) -> Fault:
    """Why two fittings do not join, and what would."""
    mine, its = line.fitting.open_ends(), other.fitting.open_ends()
    value = other.mark
    for here, ends in ((line, mine), (other, its)):
        if not ends:
            problem = f"cannot be joined: {here.mark} ({here.fitting.kind}) has no open end"
            return Fault(line.row, COLUMN, value, problem, "Take the mark out.")
    alike = [(a, b) for a in mine for b in its if same_opening(a, b)]
    if not alike:
        problem = (
            f"does not fit: {line.mark} opens {_listed(mine, unit)}, {other.mark} opens "
            f"{_listed(its, unit)}"
        )
        advice = "Make two of the openings alike, or put a transition between them."
        return Fault(line.row, COLUMN, value, problem, advice)
    a, b = alike[0]
    if any(ends_join(p.treatment, q.treatment) for p, q in alike):
        problem = f"does not fit: every end of {line.mark} or {other.mark} that fits is taken"
        return Fault(line.row, COLUMN, value, problem, "Connect it to another fitting.")
    problem = (
        f"does not fit: {a.name} of {line.mark} is {a.treatment}, {b.name} of {other.mark} is "
        f"{b.treatment}"
    )
    joins = ", ".join(sorted(MATES.get(b.treatment, {b.treatment}))) or "nothing"
    return Fault(line.row, COLUMN, value, problem, f"{b.treatment} joins {joins}.".capitalize())


def _listed(ends: Iterable[OpenEnd], unit: Unit) -> str:
    return ", ".join(dict.fromkeys(_told(end, unit) for end in ends))


def _told(end: OpenEnd, unit: Unit) -> str:
    if end.diameter is not None:
        return f"{show(end.diameter, unit)} round"
    sides = (side for side in (end.width, end.height) if side is not None)
    return " x ".join(show(side, unit) for side in sides)
