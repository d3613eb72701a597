"""Standard air in duct: velocity, the round equivalent of rectangular duct, friction.

Sizes are inches, air is cubic feet per minute (cfm), velocity feet per minute (fpm), pressure
inches of water gauge (in w.g.). Standard air weighs 0.075 lb/ft3.
"""

from __future__ import annotations

import math

SQUARE_INCHES_IN_A_SQUARE_FOOT = 144
AIR_WEIGHT = 0.075
"""lb/ft3, standard air."""

GALVANIZED_ROUGHNESS = 0.0003
"""Feet; 0.09 mm, galvanized sheet: ASHRAE Fundamentals, as a general duct-sizing page quotes it."""

REYNOLDS = 8.56
"""Re = 8.56 D V for standard air, D in inches and V in fpm (ASHRAE Fundamentals, from memory)."""

_STEPS = 60
"""Colebrook's equation gains about a digit a step; it is at rest long before."""


def velocity(cfm: float, square_inches: float) -> float:
    """V = 144 Q / A, fpm, through an area in square inches."""
    return SQUARE_INCHES_IN_A_SQUARE_FOOT * cfm / square_inches


def area(width: float, height: float) -> float:
    """Of a rectangular opening, in2."""
    return width * height


def round_area(diameter: float) -> float:
    """Of a round opening, in2."""
    return math.pi * diameter**2 / 4


def round_equivalent(a: float, b: float) -> float:
    """Diameter (in) of the round duct of equal friction at equal flow.

    De = 1.30 (a b)^0.625 / (a + b)^0.25, for the sides a and b (HVAC Systems Duct Design, Table
    14-2; the 1956 Heating Ventilating Air Conditioning Guide, chapter 32 Table 1).
    """
    return 1.30 * math.pow(a * b, 0.625) / math.pow(a + b, 0.25)


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """The Darcy factor f of turbulent flow by Colebrook's equation, 64 / Re of laminar flow.

    1 / sqrt(f) = -2 log10(e / (3.7 D) + 2.51 / (Re sqrt(f)))
    """
    if reynolds < 2300:
        return 64 / reynolds
    inverse = 8.0
    for _ in range(_STEPS):
        inverse = -2 * math.log10(relative_roughness / 3.7 + 2.51 * inverse / reynolds)
    return inverse**-2


def friction(cfm: float, diameter: float, roughness: float = GALVANIZED_ROUGHNESS) -> float:
    """Loss in round duct, in w.g. per 100 ft.

    Darcy-Weisbach in these units: dp = (12 f L / D) rho (V / 1097)^2, with f by Colebrook.

    Args:
        cfm: of standard air.
        diameter: inches; of rectangular duct its `round_equivalent`.
        roughness: feet.
    """
    speed = velocity(cfm, round_area(diameter))
    factor = friction_factor(REYNOLDS * diameter * speed, 12 * roughness / diameter)
    return 12 * factor * 100 / diameter * AIR_WEIGHT * (speed / 1097) ** 2
