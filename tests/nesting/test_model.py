"""Problems are checked once, at the door, with messages a person understands."""

import pytest

from nesting import Blank, InvalidProblemError, Keep, Problem, ShearLimits, Stock

SHEET = Stock("sheet", 10, 20, 5.0)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Blank("A", 0, 5), ['blank "A", width', "0", "1 to 10,000,000"]),
        (lambda: Blank("A", 5, -3), ['blank "A", length', "-3"]),
        (lambda: Blank("A", 5.5, 3), ['blank "A", width', "5.5", "whole number"]),
        (lambda: Blank("A", True, 3), ['blank "A", width', "True"]),
        (lambda: Blank("A", 5, 3, qty=0), ['blank "A", qty', "0"]),
        (lambda: Blank(" ", 5, 3), ["name of a blank"]),
        (lambda: Blank("A", 5, 3, value=-1), ['blank "A", value', "-1"]),
        (lambda: Stock("S", 5, 0, 1), ['stock "S", length', "0"]),
        (lambda: Stock("S", 5, 5, -1), ['stock "S", cost', "-1"]),
        (lambda: Stock("S", 5, 5, float("nan")), ['stock "S", cost', "nan"]),
        (lambda: Stock("S", 5, 5, "dear"), ['stock "S", cost', "dear"]),
        (lambda: Stock("S", 5, 5, 1, qty=-1), ['stock "S", qty', "-1"]),
        (lambda: Stock("S", 5, 5, 1, kind="roll"), ['stock "S", kind', "roll", "coil"]),
        (lambda: ShearLimits(stages=0), ["shear, stages", "0"]),
        (lambda: Keep(min_side=0), ["keep, min_side", "0"]),
        (lambda: Problem([], [SHEET]), ["blanks", "at least one"]),
        (lambda: Problem([Blank("A", 1, 1)], []), ["stock", "at least one"]),
        (lambda: Problem([Blank("A", 1, 1)], [SHEET], kerf=-1), ["kerf", "-1"]),
        (lambda: Problem([Blank("A", 1, 1), "B"], [SHEET]), ["blanks, no. 2", "use Blank"]),
        (lambda: Problem([Blank("A", 1, 1), Blank("A", 2, 2)], [SHEET]), ["'A'", "2 times"]),
        (lambda: Problem([Blank("A", 1, 1)], [SHEET, SHEET]), ["'sheet'", "2 times"]),
        (
            lambda: Problem(
                [Blank("A", 1, 1)], [SHEET], guillotine=False, shear=ShearLimits(stages=2)
            ),
            ["shear", "guillotine"],
        ),
    ],
)
def test_what_is_not_allowed_is_named(make, words):
    with pytest.raises(InvalidProblemError) as caught:
        make()
    assert isinstance(caught.value, ValueError)
    for word in words:
        assert word in str(caught.value)


def test_a_coil_costs_in_proportion_to_the_length_drawn():
    # 40 for 100 of length, so 30 cost 40 * 30 / 100 = 12; a sheet costs the same however it is cut
    assert Stock("coil", 48, 100, 40.0, kind="coil").cost_of(30) == 12.0
    assert Stock("sheet", 48, 100, 40.0).cost_of(30) == 40.0


def test_a_leftover_is_worth_keeping_by_side_and_by_area():
    keep = Keep(min_side=4, min_area=50)
    assert keep.worth(4, 13)
    assert not keep.worth(3, 100)
    assert not keep.worth(7, 7)
