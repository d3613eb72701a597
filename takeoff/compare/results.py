"""The rows of a comparison set against the job as it is written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from .choices import AS_WRITTEN, Choice
from .work import Figures, Outcome


@dataclass(frozen=True)
class Row:
    """A choice beside the job as it is written.

    Attributes:
        outcome: what it comes to, or why it cannot be made.
        saves: money; below 0 it costs more. None where either of the two is not known.
        saves_weight: lb of sheet, likewise.
        note: what a person must know of it, "" for nothing.
    """

    outcome: Outcome
    saves: Fraction | None
    saves_weight: Fraction | None
    note: str

    @property
    def choice(self) -> Choice:
        """What was tried."""
        return self.outcome.choice

    @property
    def figures(self) -> Figures | None:
        """What it comes to."""
        return self.outcome.figures


@dataclass(frozen=True)
class Comparison:
    """All choices of a job in the order they were asked for, as far as they are finished.

    Attributes:
        job: its name.
        rows: the finished ones.
        asked: how many there are in all.
        faults: sentences about price lists, in which something is wrong.
        table: the code table that gauges were held against.
    """

    job: str
    rows: tuple[Row, ...]
    asked: int
    faults: tuple[str, ...]
    table: str

    @property
    def price_notes(self) -> tuple[str, ...]:
        """Which prices stand in for the shop's own, each once."""
        notes = (note for row in self.rows for note in row.outcome.price_notes)
        return tuple(dict.fromkeys(notes))

    @property
    def gap(self) -> float:
        """How far above its proved least cost the worst plan is, as a share of that: 0.03."""
        known = [row.figures for row in self.rows if row.figures and row.figures.bound]
        return max((float(each.cost / each.bound) - 1 for each in known), default=0.0)

    @property
    def as_written(self) -> Row | None:
        """The row that the others are set against."""
        return next((row for row in self.rows if row.choice == AS_WRITTEN), None)

    @property
    def cheapest(self) -> Row | None:
        """The row of least cost that has no gauge which the code table finds too light.

        Of equals the lighter, then the first.
        """
        known = [
            (row.figures.cost, row.figures.weight, row)
            for row in self.rows
            if row.figures and not row.outcome.too_light
        ]
        return min(known, key=lambda each: each[:2])[2] if known else None


def compared(
    job: str,
    wanted: Sequence[Choice],
    outcomes: Iterable[Outcome],
    faults: Sequence[str],
    table: str,
) -> Comparison:
    """The outcomes in the order of the choices, each beside that of the job as written."""
    finished = {outcome.choice: outcome for outcome in outcomes}
    written = finished.get(AS_WRITTEN)
    before = written.figures if written else None
    rows = tuple(_row(finished[choice], before) for choice in wanted if choice in finished)
    return Comparison(job, rows, len(wanted), tuple(faults), table)


def _row(outcome: Outcome, before: Figures | None) -> Row:
    after = outcome.figures
    note = outcome.reason
    if outcome.too_light:
        note = f"lighter than the code table allows: {', '.join(outcome.too_light)}"
    if before is None or after is None:
        return Row(outcome, None, None, note)
    return Row(outcome, before.cost - after.cost, before.weight - after.weight, note)
