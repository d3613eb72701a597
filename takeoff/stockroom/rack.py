"""The offcut rack: pieces put on it, moved, scrapped, and those that are free."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence

import sqlalchemy as sa

from takeoff.materials import material, sheet

from . import exact, history, steps, whole_lists
from .errors import NotThere, Unkeepable, WrongState
from .records import Action, Movement, NewOffcut, Offcut, OffcutState, Step
from .seen import expect
from .steps import Move
from .tables import LIVE, offcuts, plans, reservations, room
from .transactions import Transactions

STANDING = (OffcutState.ON_RACK, OffcutState.RESERVED)
"""What stands on the rack, promised or not."""

MOST_IN_A_QUERY = 5000
"""Numbers; databases take some ten thousand."""

HIGHEST_NUMBER = 999_999_999

_holder = plans.alias("holder")
_OFFCUTS = (
    sa.select(
        offcuts,
        sa.func.coalesce(plans.c.name, "").label("plan"),
        sa.func.coalesce(_holder.c.name, "").label("holder"),
    )
    .outerjoin(plans, plans.c.id == offcuts.c.plan_id)
    .outerjoin(reservations, sa.and_(reservations.c.offcut == offcuts.c.number, LIVE))
    .outerjoin(_holder, _holder.c.id == reservations.c.plan_id)
    .order_by(offcuts.c.number)
)


class Rack:
    """The offcuts of a stock room."""

    def __init__(self, transactions: Transactions, who: str) -> None:
        self._transactions = transactions
        self._who = who

    def all(self, states: Collection[OffcutState] = STANDING) -> tuple[Offcut, ...]:
        """The offcuts in these states, by label."""
        query = _OFFCUTS.where(offcuts.c.state.in_(states))
        return self._transactions.read(lambda c: _read(c, query))

    def free(self) -> tuple[Offcut, ...]:
        """The offcuts on the rack that are promised to nobody, by label."""
        return self.all((OffcutState.ON_RACK,))

    def get(self, label: str) -> Offcut:
        """One offcut, on the rack or gone. Raises NotThere."""
        return self._transactions.read(lambda c: one(c, exact.number(label)))

    def history(self, label: str) -> tuple[Movement, ...]:
        """All that happened to it, the first first. Raises NotThere."""
        return self._transactions.read(lambda c: history.of_offcut(c, label))

    def add(self, pieces: Sequence[NewOffcut], note: str = "") -> Step:
        """Put offcuts on the rack; the step tells their labels, in the order of `pieces`.

        Raises:
            Unkeepable, UnknownMaterial, UnknownGauge: a piece cannot be kept. None is then.
        """
        wanted = [checked(piece) for piece in pieces]
        return self._step(
            Action.ADD_OFFCUTS, note, lambda c: onto_rack(c, wanted, next_numbers(c, len(wanted)))
        )

    def import_labelled(self, pieces: Sequence[tuple[str, NewOffcut]], note: str = "") -> Step:
        """Put offcuts on the rack that may have labels already; "" gives the next one.

        Raises:
            ListRefused: a piece or its label cannot be kept; `refused` lists all. None is then.
            UnknownMaterial, UnknownGauge: there is no such metal.
        """

        def work(connection: sa.Connection) -> list[Move]:
            used = set(connection.scalars(sa.select(offcuts.c.number)))
            whole_lists.refuse_offcuts(pieces, used)
            given = [exact.number(label) if label else None for label, _ in pieces]
            wanted = [_in_own_metal(piece) for _, piece in pieces]
            return onto_rack(connection, wanted, _numbers(connection, given))

        return self._step(Action.IMPORT_OFFCUTS, note, work)

    def used_labels(self) -> frozenset[str]:
        """Every label that was ever given."""
        query = sa.select(offcuts.c.number)
        return self._transactions.read(lambda c: frozenset(map(exact.label, c.scalars(query))))

    def scrap(self, labels: Iterable[str], note: str = "", seen: Sequence[Offcut] = ()) -> Step:
        """Throw offcuts away.

        Raises:
            NotThere: no such offcut.
            WrongState: one is promised to a plan, or not on the rack. None is thrown away then.
            NotAsSeen: one has another place or note than in `seen`.
        """
        before = {each.label: each for each in seen}
        numbers = list(dict.fromkeys(map(exact.number, labels)))

        def work(connection: sa.Connection) -> list[Move]:
            for number in numbers:
                now = one(connection, number)
                _must_be_free(now)
                expect(now, before.get(now.label), "place", "note")
            return turned(connection, numbers, OffcutState.ON_RACK, OffcutState.SCRAPPED, count=-1)

        return self._step(Action.SCRAP_OFFCUTS, note, work)

    def change(
        self,
        label: str,
        place: str | None = None,
        note: str | None = None,
        seen: Offcut | None = None,
    ) -> Step:
        """Write down another place or another note of an offcut; None leaves it as it is.

        Raises:
            NotThere: no such offcut.
            Unkeepable: a text cannot be kept.
            WrongState: it is not on the rack any more.
            NotAsSeen: it has another place or note than in `seen`.
        """
        number = exact.number(label)
        given = {"place": place, "note": note}
        after = {name: exact.text(text, name) for name, text in given.items() if text is not None}

        def work(connection: sa.Connection) -> list[Move]:
            now = one(connection, number)
            if now.state not in STANDING:
                raise _gone(now)
            expect(now, seen, "place", "note")
            before = {name: getattr(now, name) for name in after}
            if after:
                here = offcuts.c.number == number
                connection.execute(sa.update(offcuts).where(here).values(after))
            return [Move(offcut=number, before=before, after=after)]

        return self._step(Action.CHANGE_OFFCUT, "", work)

    def _step(
        self, action: Action, note: str, make: Callable[[sa.Connection], Sequence[Move]]
    ) -> Step:
        def work(connection: sa.Connection) -> Step:
            step = steps.begin(connection, action, self._who, exact.text(note, "note"))
            steps.move(connection, step, make(connection))
            return history.step(connection, step)

        return self._transactions.write(work)


def checked(piece: NewOffcut) -> NewOffcut:
    """The piece under the metal's own name.

    Raises:
        Unkeepable: a size or text cannot be kept.
        UnknownMaterial, UnknownGauge: there is no such metal.
    """
    exact.down_to_steps(piece.width, "width")
    exact.down_to_steps(piece.length, "length")
    for what in ("place", "note", "sheet"):
        exact.text(getattr(piece, what), what)
    return _in_own_metal(piece)


def one(connection: sa.Connection, number: int) -> Offcut:
    """One offcut. Raises NotThere."""
    found = _read(connection, _OFFCUTS.where(offcuts.c.number == number))
    if not found:
        raise NotThere(f"there is no offcut {exact.label(number)}.")
    return found[0]


def left_by(connection: sa.Connection, plan: int) -> tuple[Offcut, ...]:
    """What stands on the rack of the offcuts that the cutting of a plan (its id) left."""
    here = sa.and_(offcuts.c.plan_id == plan, offcuts.c.state.in_(STANDING))
    return _read(connection, _OFFCUTS.where(here))


def next_numbers(connection: sa.Connection, count: int) -> range:
    """Numbers that no offcut has had."""
    after = room.c.next_number + count
    raised = sa.update(room).values(next_number=after).returning(room.c.next_number)
    last = int(connection.execute(raised).scalar_one())
    if last > HIGHEST_NUMBER:
        top = exact.label(HIGHEST_NUMBER)
        raise Unkeepable("label", top, "is the last there is", "No more can be given.")
    return range(last - count, last)


def onto_rack(
    connection: sa.Connection,
    pieces: Sequence[NewOffcut],
    numbers: Sequence[int],
    plan: int | None = None,
) -> list[Move]:
    """Write offcuts down; the movements that put them on the rack."""
    rows = [
        {
            "number": number,
            "material": piece.material,
            "gauge": piece.gauge,
            "width": exact.down_to_steps(piece.width),
            "length": exact.down_to_steps(piece.length),
            "place": piece.place,
            "note": piece.note,
            "state": OffcutState.ON_RACK,
            "plan_id": plan,
            "sheet": piece.sheet,
        }
        for number, piece in zip(numbers, pieces, strict=True)
    ]
    steps.in_bulk(connection, offcuts, rows)
    before, after = {"state": OffcutState.TAKEN_BACK}, {"state": OffcutState.ON_RACK}
    return [Move(offcut=number, count=1, before=before, after=after) for number in numbers]


def turned(
    connection: sa.Connection,
    numbers: Sequence[int],
    before: OffcutState,
    after: OffcutState,
    count: int = 0,
    promised: int = 0,
) -> list[Move]:
    """Bring offcuts from one state to another; the movements that tell of it."""
    change = sa.update(offcuts).where(offcuts.c.state == before).values(state=after)
    changed = 0
    for start in range(0, len(numbers), MOST_IN_A_QUERY):
        some = offcuts.c.number.in_(numbers[start : start + MOST_IN_A_QUERY])
        changed += connection.execute(change.where(some)).rowcount
    if changed != len(numbers):
        raise AssertionError(f"{changed} of {len(numbers)} offcuts were {before}")
    return [
        Move(None, number, count, promised, {"state": before}, {"state": after})
        for number in numbers
    ]


def _in_own_metal(piece: NewOffcut) -> NewOffcut:
    metal = sheet(material(piece.material), piece.gauge)
    if metal.material == piece.material:
        return piece
    return NewOffcut(**{**vars(piece), "material": metal.material})


def _read(connection: sa.Connection, query: sa.Select[tuple[object, ...]]) -> tuple[Offcut, ...]:
    return tuple(
        Offcut(
            exact.label(row.number),
            row.material,
            row.gauge,
            exact.from_steps(row.width),
            exact.from_steps(row.length),
            row.place,
            row.note,
            OffcutState(row.state),
            row.plan,
            row.sheet,
            row.holder,
        )
        for row in connection.execute(query)
    )


def _must_be_free(offcut: Offcut) -> None:
    if offcut.state is OffcutState.RESERVED:
        raise WrongState(
            f'{offcut.label} is reserved for plan "{offcut.holder}": release the plan first.'
        )
    if offcut.state is not OffcutState.ON_RACK:
        raise _gone(offcut)


def _gone(offcut: Offcut) -> WrongState:
    return WrongState(f"{offcut.label} is not on the rack any more: {offcut.state}.")


def _numbers(connection: sa.Connection, given: Sequence[int | None]) -> list[int]:
    """Numbers for offcuts, those that are given and new ones above all."""
    labelled = [number for number in given if number is not None]
    if labelled:
        above = sa.update(room).where(room.c.next_number <= max(labelled))
        connection.execute(above.values(next_number=max(labelled) + 1))
    fresh = iter(next_numbers(connection, len(given) - len(labelled)))
    return [next(fresh) if number is None else number for number in given]
