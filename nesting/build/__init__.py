"""Constructive heuristics: one a file, all with the same signature, found by walking the folder."""

import importlib
import pkgutil

from nesting.build.base import HEURISTICS, Heuristic
from nesting.model import Problem

for _module in sorted(module.name for module in pkgutil.iter_modules(__path__)):
    importlib.import_module(f"{__name__}.{_module}")


def heuristics_for(problem: Problem) -> list[Heuristic]:
    """Those that keep the rules of this problem, in a fixed order, the quickest first."""
    fitting = [h for h in HEURISTICS.values() if h.supports(problem)]
    return sorted(fitting, key=lambda h: (h.rank, h.name))


__all__ = ["HEURISTICS", "Heuristic", "heuristics_for"]
