"""The explanation of one row of a job: its metal, its blanks, its bends, its bill."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from takeoff.bill.counted import count
from takeoff.bill.hardware import hardware
from takeoff.bill.money import exactly
from takeoff.bill.money import show as money
from takeoff.bill.total import known_minutes
from takeoff.bill.work import added, at_the_bench, beside, work
from takeoff.blanks import MadeLine
from takeoff.jobs.card_text import filled_in
from takeoff.lengths import Unit
from takeoff.pattern.bending import BendStep, bend_order
from takeoff.settings import Profile

from .blank import blank_lines
from .settings_read import Sizes, settings_read


@dataclass(frozen=True)
class Section:
    """A heading and the lines below it."""

    title: str
    lines: tuple[str, ...]


def explain(made: MadeLine, profile: Profile, unit: Unit, sheets: Sizes) -> tuple[Section, ...]:
    """Everything that can be said of a row without nesting the job.

    Args:
        made: the row, taken apart.
        profile: the shop's settings.
        unit: that sizes are told in.
        sheets: usable sizes of the stock in its metal (in).
    """
    bends = {blank.name: bend_order(blank.piece, profile.brake) for blank in made.blanks}
    return (
        Section(_title(made), tuple(_card(made, unit))),
        Section("Metal", tuple(_metal(made))),
        *(
            Section(
                f"Blank {blank.name}, {blank.qty} of it",
                tuple(blank_lines(blank, bends[blank.name], unit)),
            )
            for blank in made.blanks
        ),
        Section("Settings that were read for it", settings_read(made, profile, unit, sheets)),
        Section("Hardware of this row by itself", tuple(_hardware(made, profile, unit))),
        Section("Shop time of this row", tuple(_time(made, profile, bends, unit))),
    )


def _title(made: MadeLine) -> str:
    line = made.line
    metal = line.metal.name
    return f"{line.mark}: {line.qty} x {line.fitting.kind}, {metal}"


def _card(made: MadeLine, unit: Unit) -> Iterator[str]:
    given = filled_in(made.line.fitting, unit)
    yield "Given: " + "; ".join(f"{name.replace('_', ' ')} {text}" for name, text in given.items())
    yield from made.made.notes


def _metal(made: MadeLine) -> Iterator[str]:
    metal = made.line.metal
    yield (
        f"{metal.name}: {float(metal.thickness):.4f} in thick, "
        f"{float(metal.weight):.3f} lb/ft2 ({metal.source})"
    )


def _hardware(made: MadeLine, profile: Profile, unit: Unit) -> Iterator[str]:
    """As the bill counts it for a job of this row alone."""
    yield "Of ends that are alike every two make a joint; in the job they meet other rows' ends."
    lines = hardware([made], profile, unit)
    for line in lines:
        qty = f"{float(line.qty):.1f}".removesuffix(".0")
        cost = "no price" if line.cost is None else money(line.cost)
        detail = f", {line.detail}" if line.detail else ""
        yield f"{qty} {line.unit} {line.what}{detail}: {cost} ({line.why})"
    if not lines:
        yield "None."


def _time(
    made: MadeLine, profile: Profile, bends: dict[str, tuple[BendStep, ...]], unit: Unit
) -> Iterator[str]:
    by_hand = beside(count([made], profile, unit), hardware([made], profile, unit))
    done = work(added([at_the_bench(made, bends), by_hand]), profile)
    for line in done:
        qty = f"{float(line.qty):.1f}".removesuffix(".0")
        each = "not known" if line.each is None else f"{float(line.each):g} min"
        minutes = "" if line.minutes is None else f" = {float(line.minutes):.1f} min"
        unit_name = " ft" if line.unit == "ft" else ""
        yield f"{line.what}: {qty}{unit_name} x {each}{minutes} (rates.minutes.{line.rate})"
    total = known_minutes(done)
    rate = profile.rates.per_hour
    paid = "" if rate is None else f", {money(total / 60 * exactly(rate))} at {money(rate)}"
    yield f"In all {float(total):.1f} min{paid}. Cuts of the shear are shared: see the plan."
