"""Plans noted in the stock room, which promises metal to them."""

from __future__ import annotations

from takeoff.stockroom import Progress, Room

from .record import Kind, Run

UNNAMED = "Job"

LONGEST_TOLD = 2_000
"""Letters of what is told of a run that the room keeps; the run itself has all of it."""


class RoomLedger:
    """Tells a stock room of every plan; comparisons are none of its business."""

    def __init__(self, room: Room) -> None:
        self._room = room

    def note(self, run: Run, folder: str) -> None:
        """Note a plan, or how far it is by now."""
        about = run.about
        if about.kind is not Kind.PLAN:
            return
        name, progress = about.name or UNNAMED, Progress(run.state.value)
        self._room.plans.note(run.key, name, folder, about.job, progress, run.told[:LONGEST_TOLD])

    def forget(self, run: Run) -> None:
        """Note that the papers of a plan are gone. Raises WrongState: metal is reserved for it."""
        if run.about.kind is Kind.PLAN:
            self._room.plans.set_aside([run.key])
