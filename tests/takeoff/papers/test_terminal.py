"""The summary on the terminal."""

from collections.abc import Mapping
from dataclasses import replace
from io import StringIO

from rich.console import Console

from takeoff.bill.money import show
from takeoff.materials import SheetMetal
from takeoff.nest import JobPlan
from takeoff.papers import Baseline, contents
from takeoff.papers.contents import NO_BASELINES
from takeoff.papers.terminal import summary

from .plans import inch_plan, mm_plan, short_plan


def shown(
    job: JobPlan, columns: int = 100, baselines: Mapping[SheetMetal, Baseline] = NO_BASELINES
) -> str:
    out = StringIO()
    console = Console(file=out, width=columns, color_system=None)
    console.print(summary(contents(job, baselines)))
    return out.getvalue()


def test_it_tells_sheets_cost_and_how_good_that_is() -> None:
    text = shown(inch_plan())
    told = contents(inch_plan())
    assert show(told.cost.stock) in text
    for group in told.groups:
        (line,) = [each for each in text.splitlines() if each.startswith(group.name + " ")]
        assert show(group.group.plan.bound) in line
        assert f"{group.group.plan.used:.1%}" in line
    assert "Trial & error <b>" in text
    assert "placeholders" in text


def test_a_job_name_is_not_taken_for_markup() -> None:
    job = inch_plan()
    named = replace(job, job=replace(job.job, name="[red]hot[/red] [/]"))
    assert "[red]hot[/red] [/]" in shown(named)


def test_own_costs_are_not_called_placeholders() -> None:
    text = shown(short_plan())
    assert "galvanized are placeholders" not in text
    assert "6 x C1 cap (galvanized 26 ga) is NOT cut" in text


def test_sizes_are_in_the_job_s_unit() -> None:
    assert "Size (mm)" in shown(mm_plan())


def test_it_keeps_to_a_narrow_screen() -> None:
    assert max(map(len, shown(inch_plan(), columns=60).splitlines())) <= 60


def test_another_packer_for_comparison() -> None:
    metal = inch_plan().groups[0].metal
    text = shown(inch_plan(), 200, baselines={metal: Baseline("rectpack", 61.04, 1, 0.5)})
    assert "rectpack's best takes 1 sheet for 61.04" in text
