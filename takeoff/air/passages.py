"""The places of a fitting that air passes, each with the air that is known to pass it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from takeoff.fittings import Fitting
from takeoff.fittings.base import AirWay, OpenEnd
from takeoff.lengths import Length, Unit, show

from .flow import area, round_area, round_equivalent

MOST_ENDS_WITH_ALL = 2
"""A fitting with more open ends shares its air out, and only the first end has all of it."""


@dataclass(frozen=True)
class Passage:
    """A place that air passes.

    Attributes:
        name: `end 1`, `front opening`, `filter`; `ends` where all are equal.
        kind: an open end of duct, an opening cut in a side, or a filter.
        width: of a rectangular one (in).
        height: of a rectangular one (in).
        diameter: of a round one (in), and then no width and height.
        share: of the row's air that passes it, 0 to 1; None where the list does not tell.
    """

    name: str
    kind: Literal["end", "opening", "filter"]
    width: Length | None
    height: Length | None
    diameter: Length | None
    share: float | None

    @property
    def area(self) -> float:
        """Square inches."""
        if self.diameter is not None:
            return round_area(float(self.diameter))
        return area(float(self.width or 0), float(self.height or 0))

    @property
    def round_equivalent(self) -> float:
        """Diameter (in) of round duct of equal friction; of a round one its own."""
        if self.diameter is not None:
            return float(self.diameter)
        return round_equivalent(float(self.width or 0), float(self.height or 0))

    def size(self, unit: Unit) -> str:
        """`20 x 8 in`, `10 in round`."""
        if self.diameter is not None:
            return f"{show(self.diameter, unit)} {unit.name} round"
        return f"{show(self.width or 0, unit)} x {show(self.height or 0, unit)} {unit.name}"


def passages(fitting: Fitting) -> tuple[Passage, ...]:
    """Every place of the fitting that air passes; ends of one size are one entry.

    Up to two open ends carry all the air. Of more, the first does and the list does not tell how
    the others share it. Openings in a fitting with one open end or none carry all the air
    together, each as much as its area; beside two open ends their share is not known.
    """
    return tuple(_merged([*_ends(fitting), *_ways(fitting)]))


def _ends(fitting: Fitting) -> Iterator[Passage]:
    ends = fitting.open_ends()
    for place, end in enumerate(ends):
        known = place == 0 or len(ends) <= MOST_ENDS_WITH_ALL
        yield _passage(end, "end", 1.0 if known else None)


def _ways(fitting: Fitting) -> Iterator[Passage]:
    ways = [
        _passage(way, way.kind, 1.0 if way.kind == "filter" else None) for way in fitting.air_ways()
    ]
    through = len(fitting.open_ends()) > 1
    total = sum(way.area for way in ways if way.kind == "opening")
    for way in ways:
        if way.kind == "filter" or through:
            yield way
        else:
            yield _with_share(way, way.area / total)


def _passage(
    place: OpenEnd | AirWay, kind: Literal["end", "opening", "filter"], share: float | None
) -> Passage:
    return Passage(place.name, kind, place.width, place.height, place.diameter, share)


def _with_share(passage: Passage, share: float) -> Passage:
    return Passage(
        passage.name, passage.kind, passage.width, passage.height, passage.diameter, share
    )


def _count(places: list[Passage]) -> int:
    return sum(place.kind == "end" for place in places)


def _merged(places: list[Passage]) -> Iterator[Passage]:
    """Open ends of one size and share as one entry with all their names."""
    names: dict[tuple[object, ...], list[str]] = {}
    first: dict[tuple[object, ...], Passage] = {}
    for number, each in enumerate(places):
        own = number if each.kind != "end" else -1
        key = (each.kind, own, each.width, each.height, each.diameter, each.share)
        names.setdefault(key, []).append(each.name)
        first.setdefault(key, each)
    for same, each in first.items():
        every = len(names[same]) > 1 and len(names[same]) == _count(places)
        name = "ends" if every else " and ".join(names[same])
        yield Passage(name, each.kind, each.width, each.height, each.diameter, each.share)
