"""What a plan wants of the stock room, and what is promised to it, by row of the tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

import sqlalchemy as sa

from . import exact, history, rack
from .errors import NotThere, Unkeepable
from .records import Gone, KindKey, Needs, OffcutGone, OffcutState, SheetNeed, SheetsGone
from .steps import Move
from .tables import LIVE, kinds, reservations


@dataclass(frozen=True)
class Wanted:
    """What a plan needs, by row: count by kind's id, numbers of offcuts; and what is not free."""

    sheets: dict[int, int]
    offcuts: list[int]
    gone: list[Gone]

    @classmethod
    def of(cls, connection: sa.Connection, needs: Needs) -> Wanted:
        """What these needs come to at the moment."""
        wanted = cls({}, [], [])
        for key, qty in sums(needs.sheets).items():
            wanted._sheets(connection, key, qty)
        for label in dict.fromkeys(map(exact.tidy, needs.offcuts)):
            wanted._offcut(connection, label)
        return wanted

    def _sheets(self, connection: sa.Connection, key: KindKey, qty: int) -> None:
        row = connection.execute(sa.select(kinds).where(history.is_kind(key))).one_or_none()
        free = 0 if row is None else row.on_hand - row.reserved
        if row is None or free < qty:
            self.gone.append(SheetsGone(key, qty, free))
        else:
            self.sheets[row.id] = qty

    def _offcut(self, connection: sa.Connection, label: str) -> None:
        try:
            offcut = rack.one(connection, exact.number(label))
        except NotThere:
            self.gone.append(OffcutGone(label, None))
            return
        if offcut.state is OffcutState.ON_RACK:
            self.offcuts.append(exact.number(label))
        else:
            self.gone.append(OffcutGone(offcut.label, offcut.state, offcut.holder))


@dataclass(frozen=True)
class Promise:
    """What is reserved for a plan: count by kind's id, numbers of offcuts."""

    sheets: dict[int, int]
    offcuts: list[int]

    @classmethod
    def to(cls, connection: sa.Connection, plan: int) -> Promise:
        """What is promised to a plan (its id) at the moment."""
        query = (
            sa.select(reservations.c.kind_id, reservations.c.offcut, reservations.c.qty)
            .where(reservations.c.plan_id == plan, LIVE)
            .order_by(reservations.c.id)
        )
        rows = connection.execute(query).all()
        sheets = {kind: qty for kind, _, qty in rows if kind is not None}
        return cls(sheets, [offcut for _, offcut, _ in rows if offcut is not None])

    def needs(self, connection: sa.Connection) -> Needs:
        """The same by name."""
        query = sa.select(kinds).where(kinds.c.id.in_(self.sheets)).order_by(kinds.c.id)
        sheets = tuple(
            SheetNeed(KindKey(row.material, row.gauge, row.name), self.sheets[row.id])
            for row in connection.execute(query)
        )
        return Needs(sheets, tuple(map(exact.label, self.offcuts)))

    def end(self, connection: sa.Connection, cut: bool) -> list[Move]:
        """Bring the offcuts to their state after it; the movements of all of it."""
        after = OffcutState.USED if cut else OffcutState.ON_RACK
        out = -1 if cut else 0
        moves = rack.turned(connection, self.offcuts, OffcutState.RESERVED, after, out, -1)
        return moves + [
            Move(kind=kind, count=out * qty, promised=-qty) for kind, qty in self.sheets.items()
        ]


def must_be_counts(needs: Needs) -> None:
    """Raise Unkeepable: a need of less than one sheet, or of too many."""
    for need in needs.sheets:
        if not 1 <= need.qty <= exact.MOST_SHEETS:
            raise Unkeepable("qty", need.qty, f"is no count of {need.key}", "Give 1 or more.")


def sums(needs: Iterable[SheetNeed]) -> Counter[KindKey]:
    """How many sheets are needed of each kind."""
    total: Counter[KindKey] = Counter()
    for need in needs:
        total[need.key] += need.qty
    return total
