"""What a shop charges and buys by: prices, rates, fasteners, hangers, and how a bill is made up.

An amount of money or minutes that stands as "" in the file is one the shop does not know; a bill
then says that it is missing.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Annotated

from pydantic import AfterValidator, Field

from takeoff.errors import nearest
from takeoff.faults import refuse
from takeoff.materials import MATERIALS
from takeoff.tables import Amount, Known, Positive, Table

CURRENCIES = ("AUD", "CAD", "CHF", "DKK", "EUR", "GBP", "JPY", "MXN", "NOK", "NZD", "SEK", "USD")
"""Codes of ISO 4217 that a bill can be told in; from memory."""

NO_CURRENCY = "¤"
"""The sign that stands for a currency nobody has named."""


def _known_metals(prices: Mapping[str, float | None]) -> Mapping[str, float | None]:
    for name in prices:
        if name not in MATERIALS:
            raise refuse(f"has the unknown metal {name}", nearest(name, MATERIALS))
    return prices


def _currency(mark: str) -> str:
    """A sign such as $, or a code of three letters; "" for none."""
    sign = len(mark) == 1 and unicodedata.category(mark) == "Sc" and mark != NO_CURRENCY
    if mark and not sign and mark not in CURRENCIES:
        listed = ", ".join(CURRENCIES)
        raise refuse(
            "is not a currency mark known here", f'Give a sign such as $ or €, "", or {listed}.'
        )
    return mark


class Prices(Table):
    """What things cost, in the shop's own money.

    Attributes:
        per_lb: sheet by metal, for a pound.
        scrap_per_lb: what a pound of scrap brings, by metal.
        hardware: by name, for one of the unit that the list of hardware counts it in.
    """

    per_lb: Annotated[Mapping[str, Amount], AfterValidator(_known_metals)]
    scrap_per_lb: Annotated[Mapping[str, Known], AfterValidator(_known_metals)]
    hardware: Mapping[str, Known]


class Minutes(Table):
    """Minutes of work for one of each operation; the names are those of `takeoff.bill.work`."""

    sheet: Known
    cut: Known
    blank: Known
    notch: Known
    slit: Known
    contour_ft: Known
    opening: Known
    hole: Known
    cross_break: Known
    bend: Known
    hand_bend: Known
    lock_ft: Known
    roll: Known
    turned_ft: Known
    seam_ft: Known
    rivet: Known
    fitting: Known
    cleat: Known


class Rates(Table):
    """What shop time costs: money for an hour, and how long each operation takes."""

    per_hour: Known
    minutes: Minutes


class Fastening(Table):
    """How joints and seams are fastened.

    Attributes:
        round_screws: in each joint of round duct, equally spaced.
        slip_corner: the farthest that the first screw of an S slip is from a corner (in).
        slip_spacing: the farthest from screw to screw along an S slip (in).
        lap_spacing: the farthest from rivet to rivet along a lap seam (in).
    """

    round_screws: Annotated[int, Field(ge=3, le=100, strict=True)]
    slip_corner: Positive
    slip_spacing: Positive
    lap_spacing: Positive


class Sealing(Table):
    """Sealant: diameter of the bead (in), and what a cartridge holds (US fluid ounces)."""

    bead: Positive
    cartridge_fl_oz: Annotated[float, Field(gt=0, le=1000, allow_inf_nan=False)]


class Hanger(Table):
    """How duct up to a size is hung.

    Attributes:
        perimeter: of the largest duct that is hung so (in).
        spacing: the farthest from hanger to hanger (in).
        strap: what it is hung by.
    """

    perimeter: Positive
    spacing: Positive
    strap: Annotated[str, Field(min_length=1)]


Percent = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]


class Billing(Table):
    """How a bill is made up.

    Attributes:
        currency: mark set before an amount; "" for none.
        waste: percent of the stock's cost added for spoiled pieces.
        overhead: percent of everything else added.
        offcut_credit: percent of what was paid for the offcuts kept that is taken off.
    """

    currency: Annotated[str, AfterValidator(_currency)]
    waste: Percent
    overhead: Percent
    offcut_credit: Percent
