"""The settings that a fitting's numbers rest on, each with where its value is from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from takeoff.blanks import MadeLine
from takeoff.fittings import Shop
from takeoff.lengths import Length, Unit, show_exactly
from takeoff.origins import origins
from takeoff.pattern.bending import bend_order
from takeoff.profile import changes
from takeoff.settings import Profile
from takeoff.used import Seen, watched

Sizes = Sequence[tuple[Length, Length]]
"""Usable sheet sizes, width by length (in)."""
SILENT = ("units", "_name")
"""Ends of the keys that make no number."""


def settings_read(made: MadeLine, profile: Profile, unit: Unit, sheets: Sizes) -> tuple[str, ...]:
    """A line for every setting that is read while the row is made and its bends are put in order.

    Found by making it once more and watching what it reads.
    """
    seen: Seen = {}
    shop = Shop(watched(profile, seen), made.line.metal, tuple(sheets))
    made.line.fitting.make(shop)
    for blank in made.blanks:
        bend_order(blank.piece, shop.profile.brake)
    return tuple(_lines(seen, profile, unit))


def _lines(seen: Seen, profile: Profile, unit: Unit) -> Iterator[str]:
    own = {change.key: change.usual for change in changes(profile)}
    for key in sorted(seen):
        if key.endswith(SILENT):
            continue
        if key in own:
            source = f"your profile; the default is {own[key] or 'none'}"
        else:
            source = origins().get(key, "default")
        yield f"{key} = {_shown(seen[key], unit)}: {source}"


def _shown(value: object, unit: Unit) -> str:
    if isinstance(value, Fraction):
        return f"{show_exactly(value, unit)} {unit.name}"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)
