"""Rows of a job list to a job: every row read, every fault of the whole list told at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from takeoff.advice import WARNING, advise
from takeoff.errors import Fault, JobFaults
from takeoff.lengths import INCH, MILLIMETRE, Unit
from takeoff.profile import default
from takeoff.settings import Code

from .cells import is_formula, spoiled, text
from .heading import Heading, read_heading
from .job import Job, JobLine
from .line import USUAL_MATERIAL, Row, read_line
from .refusals import MOST_LETTERS, unreadable

_PLURAL = {INCH: "inches", MILLIMETRE: "millimetres"}
_KEPT_FORMULA = ("mark", "note")
"""Columns of plain text, in which a formula is kept as it is typed."""


def read_rows(
    rows: Sequence[Sequence[object]],
    name: str = "Job",
    unit: Unit = INCH,
    source: str = "",
    code: Code | None = None,
) -> Job:
    """The job that a table says, headings and all.

    Args:
        rows: every row of the table from its first, blank ones too; cells as a spreadsheet holds
            them.
        name: of the job where the list does not give one.
        unit: of bare numbers where the list does not say.
        source: the file's name, for the errors.
        code: table that gauges are held against; None: the default profile's.

    Raises:
        JobFaults: everything that is wrong with the list.
    """
    words = [[text(cell) for cell in row] for row in rows]
    heading = read_heading(words)
    if not heading.row and not heading.faults:
        raise unreadable(source, "it is empty")
    if not heading.usable:
        raise JobFaults(heading.faults, source)
    here = heading.unit(unit)
    table = code or default().code
    faults = list(heading.faults)
    lines: list[JobLine] = []
    first_with: dict[str, int] = {}
    for row in _filled(heading, rows, words):
        line = read_line(row, here, table, first_with)
        faults += _sorted(row)
        if line is not None:
            lines.append(line)
    if not faults and not lines:
        faults.append(_no_rows(heading))
    if faults:
        raise JobFaults(faults, source)
    assumed = (*_assumed(heading, here, lines, words), *_by_table(lines, table))
    advice = advise(lines, table, here)
    return Job(heading.settings.get("job") or name, here, tuple(lines), assumed, advice)


@dataclass(frozen=True)
class RawList:
    """A job list taken apart and not yet read.

    Attributes:
        name: of the job, "" where the list gives none.
        unit: of its bare numbers.
        rows: of each filled row its number and its filled cells by column.
    """

    name: str
    unit: Unit
    rows: tuple[tuple[int, Mapping[str, str]], ...]


def raw_list(rows: Sequence[Sequence[object]], unit: Unit = INCH) -> RawList:
    """The cells of a table that `read_rows` takes without a fault, as they are written."""
    words = [[text(cell) for cell in row] for row in rows]
    heading = read_heading(words)
    filled = tuple((row.number, row.cells) for row in _filled(heading, rows, words))
    return RawList(heading.settings.get("job", ""), heading.unit(unit), filled)


def _filled(
    heading: Heading, rows: Sequence[Sequence[object]], words: Sequence[Sequence[str]]
) -> Iterator[Row]:
    """The rows below the heading that have anything in them."""
    for number in range(heading.row + 1, len(rows) + 1):
        here = words[number - 1]
        if any(here):
            cells = {name: _at(here, place) for place, name in heading.columns.items()}
            row = Row(number, {name: word for name, word in cells.items() if word}, heading)
            for fault in _cell_faults(heading, number, rows[number - 1], here):
                row.add(fault)
            yield row


def _sorted(row: Row) -> list[Fault]:
    """The faults of a row, from left to right."""
    titles = list(row.heading.titles)
    return sorted(
        row.faults,
        key=lambda fault: titles.index(fault.column) if fault.column in titles else len(titles),
    )


def _at(words: Sequence[str], place: int) -> str:
    return words[place] if place < len(words) else ""


def _cell_faults(
    heading: Heading, number: int, cells: Sequence[object], words: Sequence[str]
) -> Iterator[Fault]:
    """What is wrong with cells by themselves, whatever their row is about."""
    for place, word in enumerate(words):
        title, column = _at(heading.titles, place), heading.columns.get(place)
        if word and not title:
            problem = "stands in a column without a title"
            yield Fault(number, None, word, problem, "Take it out, or name its column.")
        elif column is None:
            continue
        elif len(word) > MOST_LETTERS:
            problem = f"is longer than {MOST_LETTERS} letters"
            yield Fault(number, title, word, problem, "Write less.")
        elif (made := spoiled(cells[place])) and column != "note":
            advice = "Format the cell as text and write it again, such as 17 1/2."
            yield Fault(number, title, word, made, advice)
        elif is_formula(word) and column not in _KEPT_FORMULA:
            problem = "is a formula, and formulas are not worked out here"
            yield Fault(number, title, word, problem, "Write down what it comes to.")


def _no_rows(heading: Heading) -> Fault:
    problem = "has no fitting below its heading"
    return Fault(heading.row, None, "the job list", problem, "Add a row for each fitting.")


def _assumed(
    heading: Heading, unit: Unit, lines: Sequence[JobLine], words: Sequence[Sequence[str]]
) -> Iterator[str]:
    """What the list leaves open and how that is read."""
    if "units" not in heading.settings:
        yield f"Numbers without a unit are {_PLURAL[unit]}: the list has no line # units."
    places = {name: place for place, name in heading.columns.items()}
    for name, meaning in (("qty", "one of each"), ("material", USUAL_MATERIAL)):
        blank = [
            line.row
            for line in lines
            if name not in places or not _at(words[line.row - 1], places[name])
        ]
        if blank:
            yield f"{name} is blank in {_counted(blank, len(lines))}: {meaning}."


def _by_table(lines: Sequence[JobLine], code: Code) -> Iterator[str]:
    """Which gauges the list leaves to the code table, and which table that is."""
    if chosen := [line for line in lines if line.auto_gauge]:
        told = ", ".join(f"{line.mark} {line.metal.gauge}" for line in chosen)
        yield f"gauge is auto, the least by {code.conditions.label}: {told}. {WARNING}"


def _counted(rows: Sequence[int], of: int) -> str:
    if len(rows) == of:
        return "every row"
    if len(rows) > 8:
        return f"{len(rows)} of {of} rows"
    return ("row " if len(rows) == 1 else "rows ") + ", ".join(map(str, rows))
