"""From fittings to blanks: every piece of a job, equal ones counted together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.connections import connections
from takeoff.errors import Fault, JobFaults
from takeoff.fittings import CannotMake, Made, Shop
from takeoff.jobs.job import Job, JobLine
from takeoff.lengths import Grid, Length, from_grid, to_grid
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT, SheetMetal
from takeoff.pattern.facets import Piece
from takeoff.pattern.outline import lies_simple, net_area, outline
from takeoff.pattern.plane import NoRoom
from takeoff.pattern.settle import cut_key
from takeoff.settings import Profile


@dataclass(frozen=True)
class JobBlank:
    """A blank of the job: one piece of a fitting, with the copies the whole job needs.

    Attributes:
        name: mark and piece, unique in the job: `RB1 wrap`.
        mark: the fitting's mark.
        fitting: its kind.
        piece: the flat piece, its datum corner at (0, 0).
        qty: copies for all fittings of that mark.
        metal: what it is cut from.
        turn: whether it may be turned a quarter on the sheet.
        width: of the blank's rectangle as it is cut, along the piece's x (in): rounded up to the
            cutting grid.
        length: along its y (in).
    """

    name: str
    mark: str
    fitting: str
    piece: Piece
    qty: int
    metal: SheetMetal
    turn: bool
    width: Length
    length: Length

    @property
    def area(self) -> float:
        """Of one blank's rectangle, ft2."""
        return float(self.width * self.length) / SQUARE_INCHES_IN_A_SQUARE_FOOT

    @property
    def net_area(self) -> float:
        """Of the metal left in one piece when notches and openings are cut, ft2."""
        return float(net_area(self.piece)) / SQUARE_INCHES_IN_A_SQUARE_FOOT

    @property
    def weight(self) -> float:
        """Of one blank's rectangle, lb."""
        return self.area * float(self.metal.weight)

    @property
    def net_weight(self) -> float:
        """Of one piece, lb."""
        return self.net_area * float(self.metal.weight)


@dataclass(frozen=True)
class MadeLine:
    """A row of the job with the fitting taken apart and its blanks."""

    line: JobLine
    made: Made
    blanks: tuple[JobBlank, ...]


SheetsOf = Callable[[SheetMetal], Sequence[tuple[Length, Length]]]
"""The usable sheet sizes in stock for a metal, width by length (in)."""


def make_job(
    job: Job,
    profile: Profile,
    sheets_of: SheetsOf,
    source: str = "",
    make: Callable[[JobLine, Shop], MadeLine] | None = None,
) -> list[MadeLine]:
    """Every line's fitting taken apart, with sizes told in the job's own unit.

    Args:
        job: its lines.
        profile: of the shop.
        sheets_of: what fittings can be cut from.
        source: the file's name, for the errors.
        make: used in place of `make_line`, by those who remember what they made.

    Raises:
        JobFaults: all rows whose fitting cannot be made or does not fit what it connects to, with
            what would be allowed.
    """
    told = profile.model_copy(update={"units": job.unit.name})
    made: list[MadeLine] = []
    faults = list(connections(job.lines, job.unit)[1])
    for line in job.lines:
        shop = Shop(told, line.metal, tuple(sheets_of(line.metal)))
        if not shop.sheets:
            faults.append(_no_stock(line))
            continue
        try:
            made.append((make or make_line)(line, shop))
        except CannotMake as error:
            fault = Fault(line.row, error.column, error.value, error.problem, error.allowed)
            faults.append(fault)
    faults += _same_names(made)
    if faults:
        raise JobFaults(sorted(faults, key=lambda fault: fault.row or 0), source)
    return made


def _same_names(made: Iterable[MadeLine]) -> Iterator[Fault]:
    """A mark that runs on into a piece's name can make two blanks of one name."""
    rows: dict[str, int] = {}
    for each in made:
        for blank in each.blanks:
            row = rows.setdefault(blank.name, each.line.row)
            if row != each.line.row:
                problem = f'makes a blank called "{blank.name}", and so does row {row}'
                advice = "Give one of the two fittings another mark."
                yield Fault(each.line.row, "mark", each.line.mark, problem, advice)


def make_line(line: JobLine, shop: Shop) -> MadeLine:
    """One line's fitting taken apart; CannotMake when it cannot be made."""
    try:
        made = line.fitting.make(shop)
    except NoRoom:
        raise _too_small(line.fitting.kind) from None
    for piece in made.pieces:
        if not lies_simple(piece):
            raise _too_small(f"{line.fitting.kind}, {piece.name}")
    turn = line.fitting.may_turn(shop)
    alike: dict[tuple[object, ...], list[Piece]] = {}
    for piece in made.pieces:
        alike.setdefault(cut_key(piece), []).append(piece)
    names = _distinct([pieces[0].name for pieces in alike.values()])
    grid = shop.profile.grid.of(shop.profile.unit)
    blanks = tuple(
        _blank(line, name, pieces, turn, grid)
        for name, pieces in zip(names, alike.values(), strict=True)
    )
    return MadeLine(line, made, blanks)


def _too_small(what: str) -> CannotMake:
    return CannotMake(
        "fitting",
        what,
        "is too small for its seams and ends: their strips run into each other",
        "Make it larger, or choose narrower seams and ends.",
    )


def by_metal(blanks: Iterable[JobBlank]) -> dict[SheetMetal, list[JobBlank]]:
    """The blanks by what they are cut from, in the order they first occur."""
    groups: dict[SheetMetal, list[JobBlank]] = {}
    for blank in blanks:
        groups.setdefault(blank.metal, []).append(blank)
    return groups


def grid_size(blank: JobBlank, profile: Profile, job: Job) -> tuple[int, int]:
    """Width and length of a blank in steps of the cutting grid, rounded up."""
    grid = profile.grid.of(job.unit)
    return to_grid(blank.width, grid), to_grid(blank.length, grid)


def _blank(line: JobLine, name: str, pieces: Sequence[Piece], turn: bool, grid: Grid) -> JobBlank:
    piece = pieces[0]
    shape = outline(piece)
    return JobBlank(
        name=f"{line.mark} {name}",
        mark=line.mark,
        fitting=line.fitting.kind,
        piece=piece,
        qty=line.qty * len(pieces),
        metal=line.metal,
        turn=turn,
        width=from_grid(to_grid(shape.width, grid), grid),
        length=from_grid(to_grid(shape.length, grid), grid),
    )


def _distinct(names: Sequence[str]) -> list[str]:
    """The names, numbered where pieces of one name are cut differently."""
    count = Counter(names)
    seen: Counter[str] = Counter()
    distinct: list[str] = []
    for name in names:
        seen[name] += 1
        distinct.append(f"{name} {seen[name]}" if count[name] > 1 else name)
    return distinct


def _no_stock(line: JobLine) -> Fault:
    return Fault(
        line.row,
        "gauge",
        str(line.metal.gauge),
        f"has no {line.metal.material} sheet in the stock list",
        "Add a sheet of that metal and gauge to the stock list, or choose one that is there.",
    )
