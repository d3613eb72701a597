"""A comparison made: one choice after the other, so that the pages keep a core."""

from __future__ import annotations

from pathlib import Path

from takeoff.bill.money import show as money
from takeoff.compare.results import compared
from takeoff.compare.work import Outcome, Task, work_out
from takeoff.compare.writing import write

from .compare_view import write_view
from .orders import CompareOrder, End, Progress, Report
from .shelf import PAPERS, VIEW
from .wish import Wish

HEAD = ("Choice", "Sheets", "Cost")
SEED = 0


def compare(order: CompareOrder, folder: Path, report: Report, wish: Wish) -> End:
    """Work out every choice; of those that were not finished nothing is told.

    Raises:
        TakeoffError: the disk refused.
    """
    finished: list[Outcome] = []
    for choice in order.choices:
        report(_progress(f"Working out: {choice.name}", finished, len(order.choices)))
        task = Task(choice, order.job, order.supply, order.profile, order.seconds, SEED)
        outcome = work_out(task)
        if wish.asked:  # the search of this one was cut short
            break
        finished.append(outcome)
    if not finished:
        return End(False, "Stopped before the first choice was finished.")
    report(_progress("Drawing the chart", finished, len(order.choices)))
    label = order.profile.code.conditions.label
    made = compared(order.job.name, order.choices, finished, (), label)
    files = write(made, folder / PAPERS)
    write_view(made, [file.name for file in files], folder / VIEW)
    best = made.cheapest
    told = f"{len(finished)} of {len(order.choices)} choices worked out"
    if best is not None and best.figures is not None:
        light = any(outcome.too_light for outcome in finished)
        which = "cheapest that the code table does not find too light" if light else "cheapest"
        told += f"; {which}: {best.choice.name}, {money(best.figures.cost)}"
    return End(True, told, len(finished) < len(order.choices))


def _progress(doing: str, finished: list[Outcome], of: int) -> Progress:
    rows = tuple(
        (each.choice.name, str(each.figures.sheets), money(each.figures.cost))
        if each.figures
        else (each.choice.name, "", "cannot be made")
        for each in finished
    )
    found = f"{len(finished)} of {of} choices are finished." if finished else ""
    return Progress(doing, found, HEAD, rows, len(finished) / of)
