"""What can go wrong on the way from a job list to papers, told to a person with a tape in his hand.

::

    TakeoffError                    everything this package raises on purpose
    ├── InvalidLength               (also ValueError) a text or cell that is no length
    ├── UnknownMaterial             (also ValueError) a metal without a gauge table
    ├── UnknownGauge                (also ValueError) a gauge its metal's table lacks
    └── FaultList                   a file was read to its end; all its faults, each a Fault
        ├── JobFaults               in a job list
        ├── ProfileFault            in a shop profile
        └── StockFault              in a stock list
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass

LONGEST_VALUE = 60
"""Characters of a faulty value that are quoted before it is cut short."""


class TakeoffError(Exception):
    """Anything this package raises on purpose; its text is fit to show as it is."""


class InvalidLength(TakeoffError, ValueError):
    """A value that cannot be read as a length.

    Attributes:
        value: the value as it was given.
        advice: one or two sentences: what is wrong with it and what to write instead.
    """

    def __init__(self, value: object, advice: str) -> None:
        self.value = value
        self.advice = advice
        super().__init__(f"{quoted(value)} is not a length: {advice}")


class UnknownMaterial(TakeoffError, ValueError):
    """A metal that has no gauge table here."""


class UnknownGauge(TakeoffError, ValueError):
    """A gauge number that the table of its metal lacks."""


@dataclass(frozen=True)
class Fault:
    """One thing wrong at one place of a file.

    Attributes:
        row: row of the file as a spreadsheet counts it (the heading is row 1), if it has rows.
        column: column heading or key path.
        value: what stands there.
        problem: what is wrong with it, as the rest of a sentence: "is not more than 0".
        allowed: what to give instead, as a sentence: "Give 1 to 240 in."
    """

    row: int | None
    column: str | None
    value: str
    problem: str
    allowed: str

    @property
    def place(self) -> str:
        """Where it is: `row 14, column "width"`, or as much of that as is known."""
        parts = [] if self.row is None else [f"row {self.row}"]
        if self.column is not None:
            parts.append(f'column "{self.column}"' if parts else self.column)
        return ", ".join(parts)

    def __str__(self) -> str:
        place = f"{self.place}: " if self.place else ""
        problem = one_line(self.problem).rstrip(".")
        sentence = f"{place}{shortened(self.value)} {problem}."
        return f"{sentence} {one_line(self.allowed)}".rstrip()


class FaultList(TakeoffError):
    """All the faults of one file.

    Attributes:
        faults: every fault found, in the order of the file; at least one.
        source: the file's name, or "" where the text came from no file.
    """

    def __init__(self, faults: Iterable[Fault], source: str = "") -> None:
        self.faults = tuple(faults)
        self.source = source
        if not self.faults:
            raise ValueError("a list of faults needs at least one fault")
        super().__init__(self.faults, source)

    def __str__(self) -> str:
        if not self.source:
            return "\n".join(map(str, self.faults))
        if len(self.faults) == 1:
            return f"{self.source}: {self.faults[0]}"
        lines = [f"{self.source}: {len(self.faults)} faults", *map(str, self.faults)]
        return "\n  ".join(lines)


class JobFaults(FaultList):
    """What is wrong in a job list."""


class ProfileFault(FaultList):
    """What is wrong in a shop profile."""


class StockFault(FaultList):
    """What is wrong in a stock list."""


def one_line(text: str) -> str:
    """The text with every run of white space, line ends included, made one space."""
    return " ".join(text.split())


def printable(text: str) -> str:
    """The text without what a terminal would obey instead of showing it."""
    return "".join(letter for letter in text if letter.isprintable() or letter == "\n")


CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""Of a text, what a terminal obeys, and what turns the rest of a line around."""


NOT_PRINTED = "has a character in it that does not print"
"""What is wrong with a text that has one of them."""


def shortened(value: object) -> str:
    """The value on one line, cut short where it is very long; "a blank" for nothing."""
    text = one_line(str(value))
    if not text:
        return "a blank"
    return text if len(text) <= LONGEST_VALUE else f"{text[: LONGEST_VALUE - 3]}..."


def quoted(value: object) -> str:
    """The value on one line, in quotation marks where it is text."""
    text = shortened(value)
    if not isinstance(value, str) or not value.strip():
        return text
    mark = "'" if '"' in text else '"'
    return f"{mark}{text}{mark}"


def nearest(name: str, names: Iterable[str]) -> str:
    """A sentence that helps a person who wrote an unknown name.

    Returns:
        'Did you mean "a"?', 'Did you mean "a" or "b"?', or all the names where none is near.
    """
    known = list(names)
    by_key = {each.casefold(): each for each in known}
    near = [by_key[key] for key in difflib.get_close_matches(name.casefold().strip(), by_key, n=2)]
    if near:
        choice = " or ".join(f'"{each}"' for each in near)
        return f"Did you mean {choice}?"
    return f"Known: {', '.join(known)}." if known else ""
