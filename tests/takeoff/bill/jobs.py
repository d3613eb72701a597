"""Small jobs for the tests of the bill."""

from collections.abc import Mapping

from takeoff.bill.counted import HardwareLine
from takeoff.bill.hardware import hardware
from takeoff.blanks import MadeLine, make_line
from takeoff.fittings import Shop, find
from takeoff.jobs.job import JobLine
from takeoff.lengths import INCH
from takeoff.materials import sheet
from takeoff.profile import default, loads
from tests.takeoff.fittings.making import STANDARD_SHEETS

DUCT = {"width": "20", "height": "8", "length": "118"}


def row(kind: str, cells: Mapping[str, str], qty: int = 1, gauge: int = 24) -> MadeLine:
    """One row of a job, taken apart."""
    card = find(kind).model_validate(dict(cells), context={"unit": INCH})
    line = JobLine(2, "A1", card, qty, sheet("galvanized", gauge))
    return make_line(line, Shop(default(), line.metal, STANDARD_SHEETS))


def needs(*rows: MadeLine, profile: str = "") -> dict[tuple[str, str], HardwareLine]:
    """The hardware of rows, by name and detail."""
    shop = loads(profile) if profile else default()
    return {(line.what, line.detail): line for line in hardware(rows, shop, INCH)}


def quantities(*rows: MadeLine) -> dict[tuple[str, str], float]:
    """How much of each."""
    return {key: float(line.qty) for key, line in needs(*rows).items()}
