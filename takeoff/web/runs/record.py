"""What is kept of a run: of which job it was made, how far it got, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import StrEnum
from typing import Protocol

from takeoff.errors import TakeoffError


class NoSuchRun(TakeoffError, LookupError):
    """A plan or comparison that is not kept here, or no longer."""


class State(StrEnum):
    """How far a run got."""

    QUEUED = "queued"
    RUNNING = "running"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


class Kind(StrEnum):
    """What a run works out."""

    PLAN = "plan"
    COMPARISON = "comparison"


@dataclass(frozen=True)
class About:
    """What a run is made of.

    Attributes:
        kind: what is worked out.
        job: number of the job.
        name: of the job.
        version: of the job, to see whether it was changed since.
        seconds: for the nesting; of a comparison for each choice.
        asked: what else was chosen, in a few words.
        draw: what a plan may take of the stock room, a `Draw`; "" of a comparison.
    """

    kind: Kind
    job: int
    name: str
    version: int
    seconds: float
    asked: str = ""
    draw: str = ""


def now() -> datetime:
    """The moment, UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True)
class Run:
    """A run as it is kept.

    Attributes:
        key: its own for ever.
        about: what it is made of.
        state: how far it got.
        told: what came of it, in sentences.
        early: whether it was ended before its time, with what was found until then.
        made: when it was asked for.
        ended: when it was over.
    """

    key: str
    about: About
    state: State = State.QUEUED
    told: str = ""
    early: bool = False
    made: datetime = field(default_factory=now)
    ended: datetime | None = None

    @property
    def live(self) -> bool:
        """Whether it waits or runs."""
        return self.state in (State.QUEUED, State.RUNNING)


class Ledger(Protocol):
    """Another place that is told of every change of a run, such as the stock room."""

    def note(self, run: Run, folder: str) -> None:
        """A run is new, or has changed; `folder` is where its papers are when it is done."""

    def forget(self, run: Run) -> None:
        """A run is about to be deleted; a TakeoffError keeps it."""


class NoLedger:
    """Nobody else keeps runs."""

    def note(self, run: Run, folder: str) -> None:
        """Nothing."""

    def forget(self, run: Run) -> None:
        """Nothing."""
