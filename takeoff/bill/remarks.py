"""What a bill leaves out, and which of its figures are not the shop's own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.errors import nearest
from takeoff.layouts import Layout
from takeoff.profile import default
from takeoff.settings import Profile

from .counted import HardwareLine
from .money import show
from .weight import scrap_by_metal
from .work import WorkLine


def missing(
    parts: Sequence[HardwareLine],
    done: Sequence[WorkLine],
    layouts: Sequence[Layout],
    profile: Profile,
) -> Iterator[str]:
    """What is not in the sum, and the setting that would bring it in."""
    unpriced = dict.fromkeys(line.what for line in parts if line.cost is None)
    if unpriced:
        yield f"No price (prices.hardware) for: {', '.join(unpriced)}."
    untimed = [line.rate for line in done if line.minutes is None]
    if untimed:
        yield f"No minutes (rates.minutes) for: {', '.join(untimed)}."
    if profile.rates.per_hour is None:
        yield "No money for an hour (rates.per_hour): shop time is not in the sum."
    unsold = [
        metal
        for metal, pounds in scrap_by_metal(layouts).items()
        if pounds and profile.prices.scrap_per_lb.get(metal) is None
    ]
    if unsold:
        yield f"No price of scrap (prices.scrap_per_lb) for: {', '.join(unsold)}."
    needed = sorted({line.what for line in parts} | set(default().prices.hardware))
    for name in profile.prices.hardware:
        if name not in needed:
            yield f"{name} has a price, but nothing of that name is needed. {nearest(name, needed)}"


def notes(parts: Sequence[HardwareLine], profile: Profile) -> Iterator[str]:
    """Which figures are still the placeholders of the default profile."""
    usual = default()
    mine = profile.prices.hardware
    same = [
        name
        for name in dict.fromkeys(line.what for line in parts if line.cost is not None)
        if name in usual.prices.hardware and mine.get(name) == usual.prices.hardware[name]
    ]
    if same:
        yield f"Placeholder prices stand in for: {', '.join(same)}. Set prices.hardware."
    by_metal = any(line.cost is not None and line.what not in mine for line in parts)
    if by_metal and profile.prices.per_lb == usual.prices.per_lb:
        yield "Cleats and corner angles cost what their metal does, by the pound: a placeholder."
    if profile.rates.per_hour is not None and profile.rates.per_hour == usual.rates.per_hour:
        yield f"{show(profile.rates.per_hour)} an hour is a placeholder. Set rates.per_hour."
    if profile.rates.minutes == usual.rates.minutes:
        yield "The minutes of the operations are placeholders. Set rates.minutes by your own clock."
    if profile.prices.scrap_per_lb == usual.prices.scrap_per_lb:
        yield "The prices of scrap are placeholders. Set prices.scrap_per_lb."
    yield (
        "Hangers carry straight duct only, and shop time ends at the shop's door: what carries "
        "fittings, and all work on site, is not in this bill."
    )
