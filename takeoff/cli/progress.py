"""The bar that runs while a job is nested."""

from __future__ import annotations

from types import TracebackType
from typing import Self

from rich.console import Console
from rich.progress import Progress, ProgressColumn, Task, TextColumn
from rich.progress_bar import ProgressBar

from nesting.progress import Event, Improved, PhaseStarted
from takeoff.bill.money import show
from takeoff.materials import SheetMetal
from takeoff.plural import many

BAR_WIDTH = 24


class _Clock(ProgressColumn):
    """How much of the time is used up."""

    def render(self, task: Task) -> ProgressBar:
        total = task.total or 1.0
        return ProgressBar(total, min(task.elapsed or 0.0, total), width=BAR_WIDTH)


class NestProgress:
    """A listener for `nest_job` that shows metal, phase, sheets and cost so far.

    Args:
        console: where it is shown; nothing is where that is no terminal.
        seconds: that the nesting may take.
    """

    def __init__(self, console: Console, seconds: float) -> None:
        self._phase = ""
        self._best: dict[SheetMetal, Improved] = {}
        self._bar = Progress(
            _Clock(),
            TextColumn("{task.description}", markup=False),
            console=console,
            transient=True,
            disable=not console.is_terminal,
        )
        self._task = self._bar.add_task("", total=seconds)

    def __enter__(self) -> Self:
        self._bar.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self._bar.stop()

    def __call__(self, metal: SheetMetal, event: Event) -> None:
        """Show what happened in the nesting of a metal."""
        if isinstance(event, PhaseStarted):
            self._phase = event.phase
        elif isinstance(event, Improved):
            self._best[metal] = event
        self._bar.update(self._task, description=self.told(metal))

    def told(self, metal: SheetMetal) -> str:
        """The line beside the bar."""
        sheets = sum(best.sheets for best in self._best.values())
        cost = show(sum(best.cost for best in self._best.values()))
        so_far = f"{many(sheets, 'sheet')}, {cost} so far"
        parts = (metal.name, self._phase, so_far if sheets else "")
        return " · ".join(part for part in parts if part)
