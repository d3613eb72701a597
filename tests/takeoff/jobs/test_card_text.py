"""A fitting in the words of a job list, and in those that a bench must have."""

import pytest

from takeoff.fittings import Fitting, families
from takeoff.jobs.card_text import filled_in, for_the_bench
from takeoff.lengths import INCH, MILLIMETRE
from tests.takeoff.fittings.making import card, example_card


def test_the_throat_of_an_elbow_is_told_though_its_cell_is_blank() -> None:
    plain = card("elbow", width="18", height="8")
    assert filled_in(plain, INCH) == {"width": "18", "height": "8"}
    told = {"width": "18", "height": "8", "angle": "90", "turns": "flat", "throat": "6"}
    assert for_the_bench(plain, INCH) == told
    assert for_the_bench(card("elbow", width="18", height="8", throat="4"), INCH)["throat"] == "4"
    metric = card("elbow", MILLIMETRE, width="450", height="200")
    assert for_the_bench(metric, MILLIMETRE)["throat"] == "152.4"


@pytest.mark.parametrize("family", families().values(), ids=list(families()))
def test_what_is_filled_in_is_told_as_it_is_and_nothing_blank(family: type[Fitting]) -> None:
    for cells in family.examples:
        fitting = example_card(family, cells)
        told = for_the_bench(fitting, INCH)
        assert filled_in(fitting, INCH).items() <= told.items()
        assert all(told.values())
        assert set(told) <= {*filled_in(fitting, INCH), *family.measured}
