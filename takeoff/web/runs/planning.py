"""A plan made: nested, its papers written as the command line does, and what the pages show."""

from __future__ import annotations

import pickle
from pathlib import Path

from nesting.progress import BoundProved, Event, Finished, Improved, PhaseStarted
from takeoff.bill.money import show as money
from takeoff.blanks import make_job
from takeoff.materials import SheetMetal
from takeoff.nest import nest_job, usable_sizes
from takeoff.papers import Extra, contents, write_all
from takeoff.papers.contents import Contents, taken
from takeoff.plural import many

from .orders import End, PlanOrder, Progress, Report
from .pattern_zip import PIECES
from .plan_view import write_view
from .shelf import PAPERS, VIEW
from .wish import Wish

HEAD = ("Metal", "Sheets", "Cost", "At least")


def plan(order: PlanOrder, folder: Path, report: Report, wish: Wish) -> End:
    """Plan a job.

    Raises:
        TakeoffError: it cannot be made, or the disk refused.
    """
    report(Progress("Taking the fittings apart"))
    sizes = usable_sizes(order.stock, order.profile)
    lines = make_job(order.job, order.profile, sizes)
    listener = Listener(report, wish)
    made = nest_job(
        order.job,
        lines,
        order.stock,
        order.profile,
        order.seconds,
        progress=listener,
        room=order.room,
    )
    report(listener.so_far("Working out the bends and the bill"))
    papers = contents(made)
    report(listener.so_far("Writing the papers"))
    files = write_all(papers, folder / PAPERS, extras=(Extra.PACKET,))
    report(listener.so_far("Drawing the sheets and the cards"))
    names = [file.relative_to(folder / PAPERS).as_posix() for file in files]
    write_view(papers, names, folder / VIEW)
    blanks = [blank for line in lines for blank in line.blanks]
    (folder / PIECES).write_bytes(pickle.dumps((blanks, order.job.unit)))
    return End(True, _told(papers), made.stopped or wish.asked)


class Listener:
    """Listens to `nest_job` and tells the server: metal, phase, sheets, cost and bound so far."""

    def __init__(self, report: Report, wish: Wish) -> None:
        self._report, self._wish = report, wish
        self._best: dict[SheetMetal, Improved] = {}
        self._bounds: dict[SheetMetal, float] = {}
        self._phase = ""

    def __call__(self, metal: SheetMetal, event: Event) -> None:
        """Tell what happened in the nesting of a metal."""
        match event:
            case PhaseStarted(phase):
                self._phase = phase
            case BoundProved(bound):
                self._bounds[metal] = bound
            case Improved():
                self._best[metal] = event
            case Finished():
                self._phase = "finished"
        parts = (f"Nesting {metal.name}", self._phase)
        self._report(self.so_far(": ".join(part for part in parts if part)))
        self._wish.check()

    def so_far(self, doing: str) -> Progress:
        """What is found until now."""
        count = sum(best.sheets for best in self._best.values())
        cost = sum(best.cost for best in self._best.values())
        rows = tuple(
            (metal.name, *self._cells(metal), money(bound)) for metal, bound in self._bounds.items()
        )
        found = f"Best so far: {many(count, 'sheet')}, {money(cost)}." if count else ""
        return Progress(doing, found, HEAD, rows)

    def _cells(self, metal: SheetMetal) -> tuple[str, str]:
        best = self._best.get(metal)
        return (str(best.sheets), money(best.cost)) if best else ("", "")


def _told(papers: Contents) -> str:
    """`6 sheets, 247.95`, and how much of the job is not in it."""
    left = sum(each.qty for group in papers.groups for each in group.group.plan.unplaced)
    over = f"; {many(left, 'blank')} left over" if left else ""
    return f"{taken(papers)}{over}"
