"""What a constructive heuristic is, and the register of them."""

from collections.abc import Callable
from dataclasses import dataclass

from nesting.layouts import Layouts
from nesting.model import Problem, ShearLimits
from nesting.reduce import Reduced

Build = Callable[[Reduced], Layouts]


@dataclass(frozen=True)
class Heuristic:
    """A way to make layouts from nothing.

    Attributes:
        name: unique.
        rank: order of trial, the quickest first.
        supports: whether its layouts keep the rules of a problem.
        build: the work; the layouts hold every item unless the stock is used up.
    """

    name: str
    rank: int
    supports: Callable[[Problem], bool]
    build: Build


HEURISTICS: dict[str, Heuristic] = {}


def register(heuristic: Heuristic) -> None:
    """Add a heuristic.

    Raises:
        ValueError: its name is taken.
    """
    if heuristic.name in HEURISTICS:
        raise ValueError(f"heuristic {heuristic.name!r} is registered twice")
    HEURISTICS[heuristic.name] = heuristic


def without_limits(problem: Problem) -> bool:
    """True when the shear's limits play no part."""
    return problem.shear == ShearLimits()
