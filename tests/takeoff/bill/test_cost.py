"""Money: written exactly, shown to the cent, and placeholders called by their name."""

from fractions import Fraction

import pytest

from takeoff.bill.cost import price_notes
from takeoff.bill.money import exactly, show
from tests.takeoff.papers.plans import INCH_ROWS, inch_plan, planned, short_plan


@pytest.mark.parametrize(
    ("amount", "shown"),
    [
        (0, "0.00"),
        (0.1 + 0.2, "0.30"),
        (Fraction(1, 3), "0.33"),
        (Fraction("2.675"), "2.68"),  # half a cent goes up; a float would show 2.67
        (1234567.5, "1,234,567.50"),
    ],
)
def test_money_is_shown_to_the_cent(amount: Fraction | float, shown: str) -> None:
    assert show(amount) == shown


def test_a_price_is_the_decimal_it_is_written_as() -> None:
    assert exactly(0.1) * 3 == Fraction("0.3")


def test_default_prices_are_called_placeholders() -> None:
    (note,) = price_notes(inch_plan())
    assert "placeholders" in note
    assert "1.10 a pound" in note


def test_the_shop_s_own_rate_is_told_as_such() -> None:
    (note,) = price_notes(planned(INCH_ROWS[:1], profile_text="[prices.per_lb]\ngalvanized = 1.3"))
    assert note == "Galvanized without a cost in the stock list is priced at 1.30 a pound."


def test_a_stock_list_with_costs_needs_no_note() -> None:
    assert price_notes(short_plan()) == ()
