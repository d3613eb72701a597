"""A run of straight duct with a filter rack built in."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from takeoff.lengths import show_with_unit

from ._cuboid import Cuboid
from ._rack import Rack
from ._run import Run
from .base import CannotMake, Made, Shop

Sizes = tuple[Fraction, Fraction, Fraction]


def racked(
    shop: Shop,
    turn: bool,
    sizes: Sizes,
    filter_: tuple[Fraction, Fraction, str, str],
    ends: tuple[str, str],
    made_as: tuple[str, str, str],
    joint: Fraction | None = None,
) -> Made:
    """The duct and its rack taken apart.

    Args:
        shop: whose profile and sheets are used.
        turn: whether blanks may be turned on the sheet.
        sizes: width, height and length of the duct; the first two are the filter's nominal size.
        filter_: its middle along the run, its nominal thickness, the side of the slot, and the
            column that says where it stands.
        ends: what is done to the first and the last end.
        made_as: seam, arrangement, and whether sides are cross-broken.
        joint: length of a full joint; None for what the profile leaves.

    Raises:
        CannotMake: no room for the rack, or it lies over a joint of the run.
    """
    width, height, length = sizes
    rack = Rack(Cuboid(width, length, height), *filter_[:3], shop, filter_[3])
    rack.check()
    run = Run(width, height, length, ends, shop, turn, *made_as, joint, rack.holes)
    _check_joints(run, rack)
    made = run.make()
    unit = shop.profile.unit
    note = (
        f"The slot is {show_with_unit(rack.thickness, unit)} by "
        f"{show_with_unit(rack.slot_height, unit)}; every screw goes through a base or a lap "
        "beside it, none into the track."
    )
    return replace(
        made,
        pieces=(*made.pieces, *rack.pieces()),
        notes=(*made.notes, note),
        hardware=rack.hardware(),
    )


def _check_joints(run: Run, rack: Rack) -> None:
    low, high = rack.reach
    unit = run.shop.profile.unit
    for joint in run.begins[1:]:
        if low < joint < high:
            before, after = joint - (high - rack.middle), joint + (rack.middle - low)
            raise CannotMake(
                rack.column,
                show_with_unit(rack.middle, unit),
                f"puts the rack on the joint at {show_with_unit(joint, unit)}",
                f"Give {show_with_unit(before, unit)} or less, {show_with_unit(after, unit)} or "
                "more, or another joint length.",
            )
