"""Strips of any bent profile: flashing, drip edge, channel, hat."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import BeforeValidator, Field, ValidationInfo

from takeoff.edges import ending
from takeoff.lengths import show_with_unit

from ._body import find_end
from ._checks import check_fit
from ._fields import Name
from ._strips import Profile, bent_strip, check_profile
from .base import CannotMake, Fitting, Made, Shop, Size, read_size, register

MOST_LEGS = 12
"""The most there can be in one profile."""
_NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?")


def _parts(text: str) -> list[str]:
    return [part.strip() for part in re.split(r"[,;]", text) if part.strip()]


def _legs(value: object, info: ValidationInfo) -> object:
    if not isinstance(value, str):
        return value
    legs = tuple(read_size(part, info) for part in _parts(value))
    if not legs or min(legs) <= 0:
        raise ValueError(f'"{value}" has no leg, or one of no size. Write them as: 1, 2 1/2, 1.')
    if len(legs) > MOST_LEGS:
        raise ValueError(f"there are {len(legs)} legs. Give {MOST_LEGS} or fewer.")
    return legs


def _bends(value: object) -> object:
    if not isinstance(value, str):
        return value
    parts = _parts(value.replace("°", ""))
    for part in parts:
        if not _NUMBER.fullmatch(part) or not 0 < abs(float(part)) <= 180:
            raise ValueError(
                f'"{part}" is not a bend: give degrees from flat, up to 180, with a minus sign '
                "for a bend the other way, such as: 90, -45."
            )
    return tuple(float(part) for part in parts)


@register
class BentStrip(Fitting):
    """A strip bent on lines along its length."""

    kind: ClassVar[str] = "bent strip"
    also: ClassVar[tuple[str, ...]] = (
        "flashing",
        "drip edge",
        "channel",
        "hat channel",
        "angle strip",
    )
    summary: ClassVar[str] = (
        "A strip of any profile, given by its legs and the bends between them: flashing, drip "
        "edge, channel, hat."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"legs": "1, 2, 1", "bends": "90, 90", "length": "60"},
        {"legs": "4, 1 1/2, 1/2", "bends": "-90, 45", "length": "96", "edge_1": "hem"},
        {"legs": "1, 1 1/2, 3, 1 1/2, 1", "bends": "90, -90, -90, 90", "length": "48"},
        {"legs": "3, 4", "bends": "-100", "length": "72", "edge_2": "hem"},
    )
    measured: ClassVar[tuple[str, ...]] = ("bends",)

    legs: Annotated[tuple[Fraction, ...], BeforeValidator(_legs)] = Field(
        description="The legs of the profile in order, outside sizes, such as: 1, 2 1/2, 1."
    )
    bends: Annotated[tuple[float, ...], BeforeValidator(_bends)] = Field(
        default=(),
        description="The bends between the legs in order, degrees from flat, with a minus sign for "
        "the other way, such as: 90, -45.",
    )
    length: Size = Field(description="Length of the strip.")
    edge_1: Name = Field(
        default="raw", description="What is done to the free edge of the first leg."
    )
    edge_2: Name = Field(
        default="raw", description="What is done to the free edge of the last leg."
    )

    def make(self, shop: Shop) -> Made:
        """One strip."""
        if len(self.bends) != len(self.legs) - 1:
            raise CannotMake(
                "bends",
                f"{len(self.bends)} bends",
                f"do not lie between {len(self.legs)} legs",
                f"Give {len(self.legs) - 1} bends, or {len(self.bends) + 1} legs.",
            )
        profile = Profile(
            self.legs,
            self.bends,
            ending(self.edge_1, find_end(shop, "edge_1", self.edge_1)),
            ending(self.edge_2, find_end(shop, "edge_2", self.edge_2)),
        )
        check_profile(profile, shop, ("legs", "bends"))
        piece = bent_strip("strip", profile, self.length, shop)
        check_fit((piece,), shop, self.may_turn(shop), "length", self.length)
        return Made((piece,), notes=self._notes(shop, profile))

    def _notes(self, shop: Shop, profile: Profile) -> tuple[str, ...]:
        taken = sum(float(take) for take in profile.takes(shop))
        if taken < 1 / 128:
            return ()
        return (f"Its bends take {show_with_unit(taken, shop.profile.unit)} off the flat width.",)
