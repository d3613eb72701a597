"""The air check of a job: every row with a cfm held against the limits of the shop profile."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum

from takeoff.jobs.job import JobLine
from takeoff.lengths import INCH, Unit
from takeoff.settings import Air

from .flow import friction, velocity
from .passages import Passage, passages
from .remedy import for_area, for_friction


class Kind(Enum):
    """What is wrong."""

    STARVED = "a return that starves"
    FAST = "supply air that is too fast"
    FILTER = "a filter that is too small"
    FRICTION = "duct that takes too much pressure"


@dataclass(frozen=True)
class Reading:
    """How air passes one place of a fitting.

    Attributes:
        passage: the place.
        cfm: of air through it.
        velocity: fpm; of a filter at its face.
        round_equivalent: of an open end the round duct of equal friction (in); None elsewhere.
        friction: of duct of an open end's size, in w.g. per 100 ft; None elsewhere.
    """

    passage: Passage
    cfm: float
    velocity: float
    round_equivalent: float | None
    friction: float | None


@dataclass(frozen=True)
class Finding:
    """Something beyond the shop's limits: whose, what, and in a sentence what to do."""

    mark: str
    kind: Kind
    sentence: str


@dataclass(frozen=True)
class LineAir:
    """The air check of one row.

    Attributes:
        line: the row; it has a cfm.
        readings: of every place whose air is known.
        findings: what is beyond the limits; none when all is well.
        unknown: places whose share of the air the list does not tell.
    """

    line: JobLine
    readings: tuple[Reading, ...]
    findings: tuple[Finding, ...]
    unknown: tuple[Passage, ...]


def check_air(lines: Iterable[JobLine], limits: Air, unit: Unit = INCH) -> tuple[LineAir, ...]:
    """The check of every row that tells its air, in the order of the list.

    Args:
        lines: of the job; those without a cfm are passed over.
        limits: of the shop.
        unit: that sizes are told in.
    """
    return tuple(_line(line, line.cfm, limits, unit) for line in lines if line.cfm is not None)


def _line(line: JobLine, cfm: float, limits: Air, unit: Unit) -> LineAir:
    places = passages(line.fitting)
    readings = tuple(_reading(each, cfm * each.share) for each in places if each.share is not None)
    findings = tuple(f for each in readings for f in _findings(line, each, limits, unit))
    return LineAir(line, readings, findings, tuple(each for each in places if each.share is None))


def _reading(passage: Passage, cfm: float) -> Reading:
    speed = velocity(cfm, passage.area)
    if passage.kind != "end":
        return Reading(passage, cfm, speed, None, None)
    round_size = passage.round_equivalent
    return Reading(passage, cfm, speed, round_size, friction(cfm, round_size))


def _findings(line: JobLine, reading: Reading, limits: Air, unit: Unit) -> Iterator[Finding]:
    place = reading.passage
    back = line.side == "return"
    named = f"The return {line.mark} starves" if back else line.mark
    air = f"{named}: {reading.cfm:,.0f} cfm"
    size = place.size(unit)
    limit = limits.return_speed if back else limits.supply_speed
    if place.kind == "filter":
        limit = limits.filter_speed
    if reading.velocity > limit:
        remedy = for_area(place, reading.velocity / limit, unit)
        if place.kind == "filter":
            kind, way = Kind.FILTER, f"through a filter of {size} is"
            end = f"at its face, the limit {limit:,.0f}. {remedy}"
        else:
            kind = Kind.STARVED if back else Kind.FAST
            way, end = f"through its {place.name} of {size} runs", f"the limit is {limit:,.0f}."
            end = f"and {end} {remedy}"
        yield Finding(line.mark, kind, f"{air} {way} {reading.velocity:,.0f} fpm {end}")
    if reading.friction is not None and reading.friction > limits.friction:
        equal = "" if place.diameter else f" (as round duct of {reading.round_equivalent:.1f} in)"
        sentence = (
            f"{line.mark}: {reading.cfm:,.0f} cfm in duct of {size}{equal} takes "
            f"{reading.friction:.2f} in w.g. per 100 ft, and the limit is {limits.friction:g}. "
            f"{for_friction(place, reading.cfm, limits.friction, unit)}"
        )
        yield Finding(line.mark, Kind.FRICTION, sentence)
