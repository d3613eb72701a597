"""Money without dust: a price as it is written, summed exactly, shown to the cent."""

from __future__ import annotations

import math
from fractions import Fraction


def exactly(amount: float) -> Fraction:
    """The decimal that a price is written as: 0.1 is one tenth."""
    return Fraction(repr(float(amount)))


def show(amount: Fraction | float) -> str:
    """The amount to the cent, half a cent up, thousands apart: `1,234.50`."""
    value = amount if isinstance(amount, Fraction) else exactly(amount)
    cents = math.floor(value * 100 + Fraction(1, 2))
    return f"{cents / 100:,.2f}"
