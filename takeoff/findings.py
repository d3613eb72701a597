"""What is to be looked at again in a job that can be made, in sentences for a person."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.advice import WARNING
from takeoff.air.check import check_air
from takeoff.jobs.job import Job, Kind
from takeoff.settings import Profile


def findings(job: Job, profile: Profile) -> tuple[str, ...]:
    """One sentence for each; marks that the table says the same of are told together."""
    return (*_doubts(job), *_gauges(job, profile), *_air(job, profile))


def _doubts(job: Job) -> Iterator[str]:
    for line in job.lines:
        for doubt in line.fitting.doubts():
            yield f"{line.mark}: {doubt}."


def _gauges(job: Job, profile: Profile) -> Iterator[str]:
    marks: dict[Kind, list[str]] = {kind: [] for kind in Kind}
    for each in job.advice:
        marks[each.kind].append(each.mark)
        if each.kind is Kind.LIGHTER:
            yield f"{each.mark}: {each.sentence}"
    table = profile.code.conditions.label
    if beyond := marks[Kind.BEYOND]:
        yield f"Larger than the code table reaches ({table}): {', '.join(beyond)}."
    if unlisted := marks[Kind.UNTABLED]:
        yield f"Of a metal or shape that the code table ({table}) lacks: {', '.join(unlisted)}."
    if job.advice:
        yield WARNING


def _air(job: Job, profile: Profile) -> Iterator[str]:
    for checked in check_air(job.lines, profile.air, job.unit):
        yield from (finding.sentence for finding in checked.findings)
        if checked.unknown:
            places = ", ".join(place.name for place in checked.unknown)
            yield f"{checked.line.mark}: the list does not tell how much air passes its {places}."
