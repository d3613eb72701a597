"""What a solve tells while it works: typed events, passed to a callable of the caller's."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PhaseStarted:
    """A part of the work begins."""

    phase: str


@dataclass(frozen=True, slots=True)
class BoundProved:
    """No plan can cost less than this."""

    bound: float


@dataclass(frozen=True, slots=True)
class Improved:
    """A better plan was found."""

    cost: float
    sheets: int


@dataclass(frozen=True, slots=True)
class Finished:
    """The plan is ready."""

    cost: float
    bound: float


Event = PhaseStarted | BoundProved | Improved | Finished
Progress = Callable[[Event], None]


def silent(event: Event) -> None:
    """Do nothing with an event."""
