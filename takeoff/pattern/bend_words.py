"""Where on its blank a bend lies, in words."""

from __future__ import annotations

from takeoff.lengths import Unit, show_exactly

from .bending import BendStep
from .facets import Piece
from .outline import outline
from .plane import NEAR


def place_told(step: BendStep, piece: Piece, unit: Unit) -> str:
    """`18 1/2 from the left`, `4 lines, 2 1/2 and 32 1/2 from below`, `4 lines, aslant as drawn`.

    Only lines square to one edge all together are measured; a curve is told as one.
    """
    if step.curved:
        return "along the curve"
    lines = step.lines
    count = f"{len(lines)} lines, " if len(lines) > 1 else ""
    square = [[-NEAR < end[way] - start[way] < NEAR for start, end in lines] for way in (0, 1)]
    for way, edge in enumerate(("from the left", "from below")):
        if all(square[way]):
            datum = outline(piece).corner[way]
            found = sorted((start[way] - datum for start, _ in lines), key=float)
            told = list(dict.fromkeys(show_exactly(at, unit) for at in found))
            return f"{count}{_listed(told)} {edge}"
    aslant = "" if any(map(any, square)) else "aslant "
    return f"{count}{aslant}as drawn"


def _listed(told: list[str]) -> str:
    *others, last = told
    return f"{', '.join(others)} and {last}" if others else last
