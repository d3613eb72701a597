"""How much room letters take, so that nothing is written over anything else."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

LINE = 1.28
"""Distance between lines of text, as a part of the letter height."""
CAPITALS = 0.73
"""Height of capitals and figures, as a part of the letter height."""
BOLD = 1.12
ELLIPSIS = "…"

# Advances of DejaVu Sans, the widest of the usual sans-serif fonts, rounded up by class: a text
# set in any other one is narrower.
_ADVANCES = (
    ("'", 0.28),
    ("ijlIJ ,.", 0.33),
    ("frt-/:;\\|()[]!", 0.42),
    ("mMW@%", 1.05),
    ("w#+<=>^~GDHNOQ&U", 0.85),
    ("abcdeghknopqsuvxyz0123456789", 0.64),
)
_ADVANCE = {char: advance for chars, advance in _ADVANCES for char in chars}
_BETWEEN_WORDS = re.compile(r" +(?!(?<=\d )\d+/\d)")
"""Where a line may be broken: not inside `17 1/2`."""
_USUAL, _FOREIGN = 0.7, 1.1


def width(text: str, size: float, bold: bool = False) -> float:
    """Room a text takes at a letter height, in the unit of the height: never less than it is."""
    return _advance(text) * size * (BOLD if bold else 1.0)


@lru_cache(maxsize=4096)  # the same few texts are tried again and again, at many sizes
def _advance(text: str) -> float:
    return sum(_ADVANCE.get(char, _USUAL if char.isascii() else _FOREIGN) for char in text)


def largest(lines: Iterable[str], room: tuple[float, float], bold: bool = False) -> float:
    """The letter height at which lines of text just fit a room (width, height)."""
    texts = list(lines)
    widest = max(width(text, 1.0, bold) for text in texts)
    high = (len(texts) - 1) * LINE + CAPITALS
    return min(room[0] / widest, room[1] / high)


def fitted(text: str, size: float, room: float, bold: bool = False) -> str:
    """The text, cut short with an ellipsis where it is wider than the room."""
    if width(text, size, bold) <= room:
        return text
    kept = text
    while kept and width(kept + ELLIPSIS, size, bold) > room:
        kept = kept[:-1]
    return kept.rstrip() + ELLIPSIS


def wrapped(text: str, size: float, room: float, most: int = 3) -> list[str]:
    """The text broken into lines no wider than the room, the last one cut short.

    It is broken at spaces, but never inside a number as `17 1/2`.
    """
    lines = list(_lines(text, size, room))
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [fitted(line, size, room) for line in lines]


def _lines(text: str, size: float, room: float) -> Iterator[str]:
    line = ""
    for word in _BETWEEN_WORDS.split(text.strip()):
        longer = f"{line} {word}" if line else word
        if line and width(longer, size) > room:
            yield line
            line = word
        else:
            line = longer
    yield line
