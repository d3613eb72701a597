"""Equal cuts told as one."""

from dataclasses import replace
from fractions import Fraction

from takeoff.drawing.cut_runs import cut_runs
from takeoff.drawing.sheet_page import cut_text
from takeoff.layouts import ShearCut, layouts
from takeoff.lengths import INCH
from tests.takeoff.papers.plans import small_plan

CUT = ShearCut(1, "sheet", True, Fraction(5, 2), Fraction(48), "strip 1", "")


def told(*cuts: ShearCut) -> list[tuple[str, str]]:
    runs = cut_runs(replace(cut, number=number) for number, cut in enumerate(cuts, 1))
    return [(run.numbers, cut_text(run, INCH)) for run in runs]


def test_strips_of_one_width_are_one_setting() -> None:
    cuts = [replace(CUT, falls_off=f"strip {n}") for n in (1, 2, 3)]
    cuts.append(replace(CUT, back_gauge=Fraction(3), falls_off="strip 4", stays="offcut 1A"))
    assert told(*cuts) == [
        ("1-3", "sheet, across at 2 1/2, 3 times: strip 1 to 3"),
        ("4", "sheet, across at 3: strip 4; offcut 1A is left"),
    ]


def test_what_changes_on_the_table_is_told() -> None:
    cap = replace(CUT, part="strip 1", falls_off="C1 cap")
    assert [numbers for numbers, _ in told(cap, cap, replace(cap, part="strip 2"))] == ["1-2", "3"]
    assert [numbers for numbers, _ in told(cap, replace(cap, falls_off="C2 cap"))] == ["1", "2"]
    assert [numbers for numbers, _ in told(cap, replace(cap, stays="scrap"), cap)] == ["1-2", "3"]
    skipped = [replace(CUT, falls_off="strip 1"), replace(CUT, falls_off="strip 3")]
    assert len(told(*skipped)) == 2


def test_every_cut_is_in_one_run() -> None:
    for layout in layouts(small_plan()):
        runs = cut_runs(layout.cuts)
        assert sum(run.times for run in runs) == len(layout.cuts)
        assert len(runs) < len(layout.cuts)
