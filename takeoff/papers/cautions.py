"""What a person is warned of, on the papers where it matters."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.blanks import MadeLine

VERIFY = (
    "Verify before you cut: measure the job again and check the first blank of each kind against "
    "its running marks."
)
EDGES = (
    "Fresh edges and offcuts are sharp. Wear cut-resistant gloves and eye protection; deburr what "
    "a hand will touch. Keep gloves away from turning rolls."
)
GUARDS = (
    "Keep the guards and the hold-down of the shear in place and hands clear of blade and brake; "
    "lock the machine out before you reach in."
)
ZINC = (
    "Welding or burning galvanized metal gives off zinc fumes: not without ventilation and a "
    "respirator made for it."
)
CODE = (
    "Sizes, gauges and how the work is hung, sealed and supplied with air are for the local code "
    "and a licensed contractor to decide. This plan decides none of it."
)
CAUTIONS = (VERIFY, EDGES, GUARDS, ZINC, CODE)
"""For every job."""

RETURN_AIR = (
    "Return air: no opening within 10 ft of another appliance's open burner or draft hood in the "
    "same room; none in a bathroom, toilet, kitchen, garage, boiler or furnace room (IMC 601.5).",
    "Seal a return box tight: a leak beside a fuel-burning appliance can draw its flue gas into "
    "the house.",
    "Combustion air: a return must not take the air that a furnace or water heater in the room "
    "needs to burn. Have both checked before the unit is started.",
)
"""For fittings on the return side. The first: IMC 601.5, as quoted by a code commentary."""

BENCH = "Verify before you cut. Edges are sharp: wear gloves. Guards stay in place."
"""At the foot of a page for the bench."""


def cautions_for(made: MadeLine) -> Iterator[str]:
    """Those that matter for one row of a job, beside the foot of its pages."""
    if made.line.side == "return":
        yield from RETURN_AIR
    if made.line.metal.material == "galvanized":
        yield ZINC
    yield CODE
