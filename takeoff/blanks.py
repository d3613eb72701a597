"""From fittings to blanks: every piece of a job, equal ones counted together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.connections import connections
from takeoff.errors import Fault, JobFaults
from takeoff.fittings import CannotMake, Fitting, Made, Shop
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


@dataclass(frozen=True)
class _Cut:
    """A blank of a fitting that has no mark yet.

    Attributes:
        name: of the piece, unique in the fitting.
        piece: the first of those that are cut alike.
        count: of them in one fitting.
        width: as of `JobBlank`.
        length: as of `JobBlank`.
    """

    name: str
    piece: Piece
    count: int
    width: Length
    length: Length


_TakeApart = Callable[[Fitting, Shop], tuple[Made, tuple[_Cut, ...]]]

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
        make: used in place of `make_line`, by those who remember what they made; without one,
            equal fittings of one metal are taken apart once.

    Raises:
        JobFaults: all rows whose fitting cannot be made or does not fit what it connects to, with
            what would be allowed.
    """
    told = profile.model_copy(update={"units": job.unit.name})
    take_apart = _once()
    made: list[MadeLine] = []
    faults = list(connections(job.lines, job.unit)[1])
    for line in job.lines:
        shop = Shop(told, line.metal, tuple(sheets_of(line.metal)))
        if not shop.sheets:
            faults.append(_no_stock(line))
            continue
        try:
            made.append(make(line, shop) if make else _made_line(line, shop, take_apart))
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
    return _made_line(line, shop, _take_apart)


def _made_line(line: JobLine, shop: Shop, take_apart: _TakeApart) -> MadeLine:
    made, cuts = take_apart(line.fitting, shop)
    turn = line.fitting.may_turn(shop)
    return MadeLine(line, made, tuple(_blank(line, cut, turn) for cut in cuts))


def _once() -> _TakeApart:
    """As `_take_apart`, equal fittings of one metal once; what they join makes no difference."""
    known: dict[tuple[str, str, SheetMetal], tuple[Made, tuple[_Cut, ...]]] = {}

    def take_apart(fitting: Fitting, shop: Shop) -> tuple[Made, tuple[_Cut, ...]]:
        alone = fitting.model_copy(update={"connects_to": ()})
        card = fitting.kind, repr(alone), shop.metal  # cards with a table in them cannot be hashed
        if card not in known:
            known[card] = _take_apart(alone, shop)
        return known[card]

    return take_apart


def _take_apart(fitting: Fitting, shop: Shop) -> tuple[Made, tuple[_Cut, ...]]:
    """A fitting's pieces and the blanks they are cut from; CannotMake when it cannot be made."""
    try:
        made = fitting.make(shop)
    except NoRoom:
        raise _too_small(fitting.kind) from None
    for piece in made.pieces:
        if not lies_simple(piece):
            raise _too_small(f"{fitting.kind}, {piece.name}")
    alike: dict[tuple[object, ...], list[Piece]] = {}
    for piece in made.pieces:
        alike.setdefault(cut_key(piece), []).append(piece)
    names = _distinct([pieces[0].name for pieces in alike.values()])
    grid = shop.profile.grid.of(shop.profile.unit)
    cuts = (_cut(name, pieces, grid) for name, pieces in zip(names, alike.values(), strict=True))
    return made, tuple(cuts)


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


def _cut(name: str, pieces: Sequence[Piece], grid: Grid) -> _Cut:
    shape = outline(pieces[0])
    width = from_grid(to_grid(shape.width, grid), grid)
    length = from_grid(to_grid(shape.length, grid), grid)
    return _Cut(name, pieces[0], len(pieces), width, length)


def _blank(line: JobLine, cut: _Cut, turn: bool) -> JobBlank:
    return JobBlank(
        name=f"{line.mark} {cut.name}",
        mark=line.mark,
        fitting=line.fitting.kind,
        piece=cut.piece,
        qty=line.qty * cut.count,
        metal=line.metal,
        turn=turn,
        width=cut.width,
        length=cut.length,
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
