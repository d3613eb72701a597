"""Steps and the movements in them: the only way into the stock room and out of it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from types import MappingProxyType

import sqlalchemy as sa

from .records import Action, PlanState
from .tables import movements, steps

Changed = Mapping[str, object]
"""Columns of a kind or an offcut, as they are written down."""


@dataclass(frozen=True)
class Move:
    """A movement about to be made, of a kind (its id) or an offcut (its number)."""

    kind: int | None = None
    offcut: int | None = None
    count: int = 0
    promised: int = 0
    before: Changed | None = None
    after: Changed | None = None


@dataclass(frozen=True)
class PlanTurn:
    """What a step makes of its plan."""

    plan: int
    before: PlanState
    after: PlanState


def now() -> datetime:
    """The moment, UTC."""
    return datetime.now(UTC)


def begin(
    connection: sa.Connection,
    action: Action,
    who: str,
    note: str = "",
    turn: PlanTurn | None = None,
    undoes: int | None = None,
) -> int:
    """A new step; its number."""
    values: dict[str, object] = {
        "action": action,
        "at": now(),
        "who": who,
        "note": note,
        "undoes": undoes,
    }
    if turn is not None:
        values |= {"plan_id": turn.plan, "plan_before": turn.before, "plan_after": turn.after}
    added = connection.execute(sa.insert(steps).values(values).returning(steps.c.id))
    return int(added.scalar_one())


def move(connection: sa.Connection, step: int, moves: Iterable[Move]) -> None:
    """Write the movements of a step; the counts of kinds follow by themselves."""
    rows = [
        {
            "step_id": step,
            "kind_id": each.kind,
            "offcut": each.offcut,
            "qty": each.count,
            "promised": each.promised,
            "before": written(each.before),
            "after": written(each.after),
        }
        for each in moves
    ]
    in_bulk(connection, movements, rows)


def in_bulk(
    connection: sa.Connection, table: sa.Table, rows: Sequence[Mapping[str, object]]
) -> None:
    """Insert rows, fast for many; none is fine."""
    if rows:
        connection.execute(sa.insert(table), [dict(row) for row in rows])


def written(changed: Changed | None) -> str | None:
    """What was changed, as text."""
    return None if changed is None else json.dumps(dict(changed), sort_keys=True)


@lru_cache(maxsize=256)
def read(text: str | None) -> Changed:
    """The way back; thousands of movements of one step tell the same."""
    found: dict[str, object] = {} if text is None else json.loads(text)
    return MappingProxyType(found)
