"""A bill worked by hand; what is left out of one; what is refused."""

from collections.abc import Callable
from fractions import Fraction

import pytest

from takeoff.bill.total import Bill
from takeoff.bill.weight import weights
from takeoff.blanks import grid_size
from takeoff.errors import ProfileFault
from takeoff.lengths import INCH
from takeoff.nest import JobPlan
from takeoff.papers import contents
from takeoff.profile import loads
from tests.takeoff.papers.plans import ALL, Row, planned

CAPS: tuple[Row, ...] = (("C1", "end cap", 3, 26, {"width": "30", "height": "30"}),)
STOCK = "material,gauge,stock,width,length,cost,qty\ngalv,26,only,48,96,36.40,\n"
RATES = """
[rates]
per_hour = 60
[rates.minutes]
sheet = 2
cut = 0.5
blank = 1
notch = 0.25
bend = 0.5
cross_break = 0.75
[prices.hardware]
"sheet metal screw" = 0.05
"sealant cartridge" = 7.5
"""

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


def billed(profile: str = RATES, rows: tuple[Row, ...] = CAPS) -> Bill:
    return contents(planned(rows, INCH, profile, STOCK)).bill


def sums(bill: Bill) -> dict[str, Fraction]:
    return {line.what: line.amount for line in bill.lines}


def test_a_bill_by_hand() -> None:
    bill = billed()
    # three caps of 30 x 30 with 1 in flanges: 32 x 32, three on one sheet 48 x 96 for 36.40. One
    # cut along the sheet parts a strip 16 x 96 worth keeping, two across part the caps: no scrap.
    # hardware: (30 - 4) / 12 = 2 1/6, so 4 screws a side, 16 a cap, 48 at .05 = 2.40; sealant
    # 3 x 120 = 360 in of the 371 in of one cartridge: 7.50
    assert {line.what: line.cost for line in bill.hardware} == {
        "sheet metal screw": Fraction("2.4"),
        "sealant cartridge": Fraction("7.5"),
    }
    # per cap 4 corner notches, 4 strokes of the brake, 1 side of more than 10 in cross-broken
    assert {line.rate: (line.qty, line.minutes) for line in bill.work} == {
        "sheet": (1, 2),
        "cut": (3, Fraction("1.5")),
        "blank": (3, 3),
        "notch": (12, 3),
        "cross_break": (3, Fraction("2.25")),
        "bend": (12, 6),
    }
    # 17.75 minutes at 60 an hour
    assert sums(bill) == {
        "stock": Fraction("36.4"),
        "hardware": Fraction("9.9"),
        "shop time": Fraction("17.75"),
    }
    assert bill.total == Fraction("64.05")
    assert bill.missing == ()


def test_waste_credit_and_overhead_only_where_wanted() -> None:
    extra = '[bill]\ncurrency = "$"\nwaste = 10\noverhead = 20\noffcut_credit = 50\n'
    bill = billed(RATES + extra)
    found = sums(bill)
    assert found["waste"] == Fraction("3.64")
    # a third of the sheet is the offcut: 36.40 / 3, half of it
    assert found["offcuts kept"] == -Fraction("36.4") / 6
    before = Fraction("64.05") + Fraction("3.64") - Fraction("36.4") / 6
    assert found["overhead"] == before / 5
    assert bill.total == before * 6 / 5
    assert bill.money(bill.total) == "$73.95"
    assert bill.money(Fraction(-3)) == "-$3.00"


def test_scrap_is_sold_by_the_pound() -> None:
    # one cap of 40 x 90, 42 x 92 flat, on 48 x 96: 6 x 96 could be kept (4 ft2), 4 x 42 is scrap:
    # 168 in2 of 26 gauge at .906 lb/ft2, or 6 x 92 kept and 4 x 48 scrap
    rows: tuple[Row, ...] = (("C1", "end cap", 1, 26, {"width": "40", "height": "90"}),)
    plan = planned(rows, INCH, RATES + "[prices.scrap_per_lb]\ngalvanized = 0.5", STOCK)
    told = contents(plan)
    assert told.weights.scrap in [Fraction(area) * Fraction("0.906") / 144 for area in (168, 192)]
    assert sums(told.bill)["scrap sold"] == -told.weights.scrap / 2


def test_what_is_not_known_is_told_and_the_rest_added_up() -> None:
    bill = billed(
        RATES.replace("per_hour = 60", 'per_hour = ""')
        .replace("bend = 0.5", 'bend = ""')
        .replace('"sheet metal screw" = 0.05', '"sheet metal screw" = ""\nrivets = 0.1')
    )
    assert bill.total == Fraction("36.4") + Fraction("7.5")
    assert bill.hours == (Fraction("17.75") - 6) / 60
    assert bill.missing == (
        "No price (prices.hardware) for: sheet metal screw.",
        "No minutes (rates.minutes) for: bend.",
        "No money for an hour (rates.per_hour): shop time is not in the sum.",
        'rivets has a price, but nothing of that name is needed. Did you mean "rivet"?',
    )


def test_placeholders_are_called_so() -> None:
    notes = " ".join(billed("").notes)
    assert "Placeholder prices stand in for: sheet metal screw, sealant cartridge." in notes
    assert "65.00 an hour is a placeholder" in notes
    own = " ".join(billed(RATES + "[prices.scrap_per_lb]\ngalvanized = 0.5").notes)
    assert "an hour is a placeholder" not in own


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("[prices.hardware]\nrivet = -1", "prices.hardware.rivet: -1 is less than 0. Give 0 or"),
        ('[prices.hardware]\nrivet = "two"', "prices.hardware.rivet: two is not a number."),
        ("[prices.scrap_per_lb]\nlead = 1", "prices.scrap_per_lb: a table has the unknown metal"),
        ("[rates]\nper_hour = -5", "rates.per_hour: -5 is less than 0. Give 0 or more."),
        ("[rates]\nper_hour = nan", "rates.per_hour: nan is not a number. Give a number."),
        ("[rates.minutes]\nbends = 1", 'bends is not a key here. Did you mean "bend"'),
        ("[rates.minutes]\nbend = -1", "rates.minutes.bend: -1 is less than 0."),
        ('[bill]\ncurrency = "¤"', "bill.currency: ¤ is not a currency mark known here."),
        ('[bill]\ncurrency = "dollars"', "bill.currency: dollars is not a currency mark known"),
        ("[bill]\nwaste = 101", "bill.waste: 101 is more than 100."),
        ("[hangers.home]\nspacing = 0", "hangers.home.spacing: 0 is not more than 0."),
        ("[sealing]\nbead = 0", "sealing.bead: 0 is not more than 0."),
    ],
)
def test_refused_in_one_clear_message(text: str, line: str) -> None:
    with pytest.raises(ProfileFault) as caught:
        loads(text, "mine.toml")
    (fault,) = caught.value.faults
    assert line in str(fault)


@pytest.mark.parametrize("mark", ["$", "€", "£", "zł"[:0], "USD", "CHF"])
def test_currency_marks(mark: str) -> None:
    assert loads(f'[bill]\ncurrency = "{mark}"').bill.currency == mark


@every_plan
def test_pieces_and_scrap_weigh_what_the_stock_does(plan: Callable[[], JobPlan]) -> None:
    """Pieces weighed one by one, by their size on the grid; exactly, without the layouts' sums."""
    job = plan()
    told = contents(job)
    squares = job.grid.per_inch**2
    pieces = Fraction(0)
    for group in job.groups:
        left = {entry.blank.name: entry.qty for entry in group.plan.unplaced}
        for blank in group.blanks:
            width, length = grid_size(blank, job.profile, job.job)
            placed = blank.qty - left.get(blank.name, 0)
            pieces += placed * width * length / squares / 144 * group.metal.weight
    total = weights(told.layouts)
    assert pieces + total.offcuts + total.scrap == total.stock


@every_plan
def test_the_lines_are_the_total(plan: Callable[[], JobPlan]) -> None:
    bill = contents(plan()).bill
    assert bill.total == sum(line.amount for line in bill.lines)
    known = [line.cost for line in bill.hardware if line.cost is not None]
    assert sums(bill)["hardware"] == sum(known)
    assert min(line.qty for line in (*bill.hardware, *bill.work)) > 0
