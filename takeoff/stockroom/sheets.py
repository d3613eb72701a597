"""Sheets on hand: added, counted, priced."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import sqlalchemy as sa

from takeoff.materials import material, sheet

from . import exact, history, steps, whole_lists
from .errors import TooFew, WrongState
from .records import Action, Kind, KindKey, Movement, Step
from .seen import expect
from .steps import Move
from .tables import kinds
from .transactions import Transactions


class Sheets:
    """The kinds of sheet of a stock room."""

    def __init__(self, transactions: Transactions, who: str) -> None:
        self._transactions = transactions
        self._who = who

    def all(self) -> tuple[Kind, ...]:
        """Every kind, by metal, gauge (thick to thin) and size."""
        order = kinds.c.material, kinds.c.gauge, kinds.c.width, kinds.c.length, kinds.c.name
        query = sa.select(kinds).order_by(*order)
        return self._transactions.read(lambda c: tuple(map(_kind, c.execute(query))))

    def get(self, key: KindKey) -> Kind:
        """One kind. Raises NotThere."""
        return self._transactions.read(lambda c: _kind(history.kind_row(c, key)))

    def history(self, key: KindKey) -> tuple[Movement, ...]:
        """All that happened to it, the first first. Raises NotThere."""
        return self._transactions.read(lambda c: history.of_kind(c, key))

    def add(
        self,
        key: KindKey,
        width: Fraction,
        length: Fraction,
        qty: int,
        price: Decimal | None = None,
        note: str = "",
    ) -> Step:
        """Put sheets in; a kind that is new is noted first, with `qty` 0 only noted.

        Raises:
            WrongState: the kind is there in another size.
            Unkeepable: a size, count, price or text cannot be kept.
        """
        kind = checked(Kind(key, width, length, price, on_hand=qty))

        def work(connection: sa.Connection) -> Step:
            step = steps.begin(connection, Action.ADD_SHEETS, self._who, exact.text(note, "note"))
            steps.move(connection, step, [_into(connection, kind)])
            return history.step(connection, step)

        return self._transactions.write(work)

    def count(self, key: KindKey, counted: int, note: str = "", seen: Kind | None = None) -> Step:
        """Set what is on hand to what was counted; the difference is the movement.

        Raises:
            NotThere: no such kind.
            TooFew: more are reserved for plans than were counted.
            NotAsSeen: others are on hand than were in `seen`.
        """
        exact.count(counted)

        def work(connection: sa.Connection) -> Step:
            step = steps.begin(connection, Action.COUNT_SHEETS, self._who, exact.text(note, "note"))
            kind = _kind(history.kind_row(connection, key))
            expect(kind, seen, "on_hand")
            steps.move(connection, step, [_counted(connection, kind, counted)])
            return history.step(connection, step)

        return self._transactions.write(work)

    def price(
        self, key: KindKey, price: Decimal | None, note: str = "", seen: Kind | None = None
    ) -> Step:
        """Set the price of one sheet; None: by its weight.

        Raises:
            NotThere: no such kind.
            Unkeepable: it is no price.
            NotAsSeen: it has another price than in `seen`.
        """
        parts = None if price is None else exact.to_parts(price)
        return self._change(key, "price", parts, note, seen)

    def buy(self, key: KindKey, bought: bool, note: str = "") -> Step:
        """Say whether the shop still buys the kind. Raises NotThere."""
        return self._change(key, "bought", bought, note)

    def take_stock(self, counted: Sequence[Kind], note: str = "") -> Step:
        """Set each kind to its count and, where it has one, its price; new kinds are noted.

        Kinds that are not named stay as they are. All or nothing.

        Raises:
            ListRefused: a kind cannot be set so; `refused` lists all.
            UnknownMaterial, UnknownGauge: there is no such metal.
        """
        wanted = [_in_own_metal(kind) for kind in counted]

        def work(connection: sa.Connection) -> Step:
            step = steps.begin(
                connection, Action.IMPORT_SHEETS, self._who, exact.text(note, "note")
            )
            known = {kind.key: kind for kind in map(_kind, connection.execute(sa.select(kinds)))}
            whole_lists.refuse_sheets(wanted, known)
            moves = [_set(connection, kind, known.get(kind.key)) for kind in wanted]
            steps.move(connection, step, moves)
            return history.step(connection, step)

        return self._transactions.write(work)

    def _change(
        self, key: KindKey, column: str, value: object, note: str, seen: Kind | None = None
    ) -> Step:
        def work(connection: sa.Connection) -> Step:
            step = steps.begin(
                connection, Action.CHANGE_SHEETS, self._who, exact.text(note, "note")
            )
            row = history.kind_row(connection, key)
            expect(_kind(row), seen, column)
            change = _changed(connection, row, {column: value})
            steps.move(connection, step, [change])
            return history.step(connection, step)

        return self._transactions.write(work)


def checked(kind: Kind) -> Kind:
    """The kind under the metal's own name.

    Raises:
        Unkeepable: a size, count, price or text cannot be kept.
        UnknownMaterial, UnknownGauge: there is no such metal.
    """
    exact.to_steps(kind.width, "width")
    exact.to_steps(kind.length, "length")
    exact.count(kind.on_hand)
    if kind.price is not None:
        exact.to_parts(kind.price)
    exact.name(kind.key.name, "stock")
    return _in_own_metal(kind)


def _in_own_metal(kind: Kind) -> Kind:
    metal = sheet(material(kind.key.material), kind.key.gauge)
    return replace(kind, key=KindKey(metal.material, metal.gauge, kind.key.name))


def _kind(row: sa.Row[tuple[object, ...]]) -> Kind:
    return Kind(
        KindKey(row.material, row.gauge, row.name),
        exact.from_steps(row.width),
        exact.from_steps(row.length),
        None if row.price is None else exact.from_parts(row.price),
        row.bought,
        row.on_hand,
        row.reserved,
    )


def _into(connection: sa.Connection, kind: Kind) -> Move:
    """The movement that puts sheets in, of a kind noted for the occasion where it is new."""
    row = connection.execute(sa.select(kinds).where(history.is_kind(kind.key))).one_or_none()
    if row is None:
        return _noted(connection, kind)
    known = _kind(row)
    _same_size(kind, known)
    exact.count(known.on_hand + kind.on_hand)
    if kind.price is None:
        return Move(kind=row.id, count=kind.on_hand)
    change = _changed(connection, row, {"price": exact.to_parts(kind.price)})
    return replace(change, count=kind.on_hand)


def _noted(connection: sa.Connection, kind: Kind) -> Move:
    """A new kind, and the movement that puts its sheets in."""
    values = {
        "material": kind.key.material,
        "gauge": kind.key.gauge,
        "name": kind.key.name,
        "width": exact.to_steps(kind.width),
        "length": exact.to_steps(kind.length),
        "price": None if kind.price is None else exact.to_parts(kind.price),
        "bought": kind.bought,
    }
    added = connection.execute(sa.insert(kinds).values(values).returning(kinds.c.id))
    after = {"bought": kind.bought}
    return Move(added.scalar_one(), None, kind.on_hand, 0, {"bought": False}, after)


def _same_size(kind: Kind, known: Kind) -> None:
    if (kind.width, kind.length) != (known.width, known.length):
        raise WrongState(
            f"{kind.key} is kept as {exact.sides(known.width, known.length)}, not as "
            f"{exact.sides(kind.width, kind.length)}: give another size another name."
        )


def _counted(connection: sa.Connection, known: Kind, counted: int) -> Move:
    if counted < known.reserved:
        raise TooFew(
            f"{known.key}: {counted} counted, but {known.reserved} are reserved for plans: "
            "release a plan first."
        )
    row = history.kind_row(connection, known.key)
    return Move(kind=row.id, count=counted - known.on_hand)


def _set(connection: sa.Connection, kind: Kind, known: Kind | None) -> Move:
    """The movement that sets a kind to its count and price."""
    if known is None:
        return _noted(connection, kind)
    _same_size(kind, known)
    move = _counted(connection, known, kind.on_hand)
    if kind.price is None:
        return move
    row = history.kind_row(connection, kind.key)
    change = _changed(connection, row, {"price": exact.to_parts(kind.price)})
    return replace(change, count=move.count)


def _changed(
    connection: sa.Connection, row: sa.Row[tuple[object, ...]], after: dict[str, object]
) -> Move:
    """Write columns of a kind anew; the movement that tells of it."""
    before = {column: row._mapping[column] for column in after}
    connection.execute(sa.update(kinds).where(kinds.c.id == row.id).values(after))
    return Move(kind=row.id, before=before, after=after)
