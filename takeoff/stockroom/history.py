"""What was done in the stock room: the steps, and the movements of one piece."""

from __future__ import annotations

import sqlalchemy as sa

from . import exact
from .errors import NotThere
from .records import Action, KindKey, Movement, Step
from .steps import read
from .tables import kinds, movements, offcuts, plans, steps
from .touched import touched

_undo = steps.alias("undo")
_STEPS = (
    sa.select(
        steps.c.id,
        steps.c.action,
        steps.c.at,
        steps.c.who,
        steps.c.note,
        steps.c.undoes,
        sa.func.coalesce(plans.c.name, "").label("plan"),
        _undo.c.id.is_not(None).label("undone"),
    )
    .outerjoin(plans, plans.c.id == steps.c.plan_id)
    .outerjoin(_undo, _undo.c.undoes == steps.c.id)
)


def last_steps(connection: sa.Connection, most: int) -> tuple[Step, ...]:
    """The last steps, the latest first; without the labels."""
    rows = connection.execute(_STEPS.order_by(steps.c.id.desc()).limit(most)).all()
    pieces = touched(connection, [row.id for row in rows])
    return tuple(_step(row, pieces=pieces.get(row.id, "")) for row in rows)


def step(connection: sa.Connection, number: int) -> Step:
    """One step, with the labels that it put on the rack. Raises NotThere."""
    row = connection.execute(_STEPS.where(steps.c.id == number)).one_or_none()
    if row is None:
        raise NotThere(f"there is no step {number}.")
    onto_rack = (
        sa.select(movements.c.offcut)
        .where(movements.c.step_id == number, movements.c.offcut.is_not(None))
        .where(movements.c.qty > 0)
        .order_by(movements.c.offcut)
    )
    labels = tuple(map(exact.label, connection.scalars(onto_rack)))
    return _step(row, labels, touched(connection, [number]).get(number, ""))


def of_kind(connection: sa.Connection, key: KindKey) -> tuple[Movement, ...]:
    """All that happened to a kind of sheet, the first first. Raises NotThere."""
    return _movements(connection, movements.c.kind_id == kind_row(connection, key).id, key)


def of_offcut(connection: sa.Connection, label: str) -> tuple[Movement, ...]:
    """All that happened to an offcut, the first first. Raises NotThere."""
    number = exact.number(label)
    if connection.scalar(sa.select(offcuts.c.number).where(offcuts.c.number == number)) is None:
        raise NotThere(f"there is no offcut {label}.")
    return _movements(connection, movements.c.offcut == number, exact.label(number))


def kind_row(connection: sa.Connection, key: KindKey) -> sa.Row[tuple[object, ...]]:
    """The row of a kind. Raises NotThere."""
    found = connection.execute(sa.select(kinds).where(is_kind(key))).one_or_none()
    if found is None:
        raise NotThere(f"there is no {key} in the stock room.")
    return found


def is_kind(key: KindKey) -> sa.ColumnElement[bool]:
    """Whether a row of kinds is that one."""
    return sa.and_(
        kinds.c.material == key.material, kinds.c.gauge == key.gauge, kinds.c.name == key.name
    )


def _movements(
    connection: sa.Connection, which: sa.ColumnElement[bool], piece: KindKey | str
) -> tuple[Movement, ...]:
    query = (
        _STEPS.join(movements, movements.c.step_id == steps.c.id)
        .add_columns(
            movements.c.qty,
            movements.c.promised,
            movements.c.before,
            movements.c.after,
        )
        .where(which)
        .order_by(movements.c.id)
    )
    return tuple(
        Movement(
            _step(row),
            piece,
            row.qty,
            row.promised,
            read(row.before),
            read(row.after),
        )
        for row in connection.execute(query)
    )


def _step(row: sa.Row[tuple[object, ...]], labels: tuple[str, ...] = (), pieces: str = "") -> Step:
    return Step(
        number=row.id,
        action=Action(row.action),
        at=row.at,
        who=row.who,
        plan=row.plan,
        note=row.note,
        undoes=row.undoes,
        undone=bool(row.undone),
        labels=labels,
        pieces=pieces,
    )
