"""The line that runs while a job is nested."""

import io

from rich.console import Console

from nesting.progress import BoundProved, Finished, Improved, PhaseStarted
from takeoff.cli.progress import NestProgress
from takeoff.materials import sheet

HEAVY, LIGHT = sheet("galvanized", 24), sheet("galvanized", 26)


def test_it_tells_metal_phase_sheets_and_cost_of_all_metals() -> None:
    screen = io.StringIO()
    console = Console(file=screen, force_terminal=True, width=100)
    with NestProgress(console, 2.0) as progress:
        progress(HEAVY, PhaseStarted("build"))
        assert progress.told(HEAVY) == "galvanized 24 ga · build"
        progress(HEAVY, BoundProved(20.0))
        progress(HEAVY, Improved(41.5, 1))
        assert progress.told(HEAVY) == "galvanized 24 ga · build · 1 sheet, 41.50 so far"
        progress(HEAVY, Finished(41.5, 41.5))
        progress(LIGHT, PhaseStarted("search"))
        progress(LIGHT, Improved(80.0, 3))
        progress(LIGHT, Improved(75.0, 2))
    assert progress.told(LIGHT) == "galvanized 26 ga · search · 3 sheets, 116.50 so far"
    assert "galvanized 26 ga · search · 3 sheets, 116.50 so far" in screen.getvalue()


def test_it_is_silent_where_nobody_looks() -> None:
    screen = io.StringIO()
    with NestProgress(Console(file=screen, force_terminal=False), 2.0) as progress:
        progress(HEAVY, Improved(41.5, 1))
    assert screen.getvalue().strip() == ""
