"""Plans noted in the stock room, which promises metal to them."""

from __future__ import annotations

from takeoff.errors import TakeoffError
from takeoff.stockroom import NotThere, PlanRecord, PlanState, Progress, Room

from .record import Kind, Run

UNNAMED = "Job"

LONGEST_TOLD = 2_000
"""Letters of what is told of a run that the room keeps; the run itself has all of it."""


class StillReserved(TakeoffError):
    """A plan that metal is reserved for cannot be deleted."""


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

    def check_free(self, run: Run) -> None:
        """Raise StillReserved where metal is reserved for a plan."""
        plan = self._plan(run)
        if plan is not None and plan.state is PlanState.COMMITTED:
            raise StillReserved(
                f'Metal is reserved for the plan "{plan.name}". Release it first, then delete it.'
            )

    def forget(self, run: Run) -> None:
        """Note that the papers of a plan are gone. Raises StillReserved."""
        self.check_free(run)
        if self._plan(run) is not None:
            self._room.plans.follow(run.key, Progress.STOPPED, "Its papers were deleted.")

    def _plan(self, run: Run) -> PlanRecord | None:
        """The plan as the room knows it; None of a comparison, or where the room knows none."""
        if run.about.kind is not Kind.PLAN:
            return None
        try:
            return self._room.plans.get(run.key)
        except NotThere:
            return None
