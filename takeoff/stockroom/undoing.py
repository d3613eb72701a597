"""Undo: a step of contrary movements. Nothing of the history is taken away.

What a step wrote is put back only where it still stands; where a later step has built on it, the
undo is refused and says on what.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import sqlalchemy as sa

from . import exact, history, steps
from .errors import CannotUndo, NotThere
from .records import Action, KindKey, PlanState, Step
from .steps import Changed, PlanTurn
from .tables import kinds, movements, offcuts, plans, reservations
from .tables import steps as step_table

_Row = sa.Row[tuple[object, ...]]

MOST_NAMED = 5
"""Obstacles that are told; there may be thousands."""


_STANDS = sa.and_(
    step_table.c.action != Action.UNDO,
    step_table.c.id.not_in(
        sa.select(step_table.c.undoes).where(step_table.c.undoes.is_not(None)).correlate(None)
    ),
)
"""Whether a step is neither an undo nor undone."""


def undo(connection: sa.Connection, number: int | None, who: str, note: str) -> Step:
    """Undo a step; None: the last that is neither undone nor an undo.

    Raises:
        NotThere: there is no such step, or none that could be undone.
        CannotUndo: it is undone already, an undo itself, or later steps stand in the way.
    """
    step = _last(connection) if number is None else history.step(connection, number)
    if step.action is Action.UNDO:
        raise CannotUndo(f"step {step.number} is an undo itself: do what it undid once more.")
    if step.undone:
        raise CannotUndo(f"step {step.number} is undone already.")
    query = sa.select(movements).where(movements.c.step_id == step.number)
    moved = connection.execute(query.order_by(movements.c.id.desc())).all()
    turn = _plan_back(connection, step)
    if obstacles := [*_in_sheets(connection, moved), *_in_offcuts(connection, moved)]:
        more = len(obstacles) - MOST_NAMED
        told = [*obstacles[:MOST_NAMED], *([f"and {more} more"] if more > 0 else [])]
        raise CannotUndo(f"step {step.number} cannot be undone: {'; '.join(told)}.")
    return _undone(connection, step, moved, turn, who, note)


def _undone(
    connection: sa.Connection,
    step: Step,
    moved: Sequence[_Row],
    turn: PlanTurn | None,
    who: str,
    note: str,
) -> Step:
    contrary = steps.begin(connection, Action.UNDO, who, note, turn, undoes=step.number)
    _write_back(connection, moved)
    _move_back(connection, step.number, contrary)
    _reservations_back(connection, step.number, contrary)
    if turn is not None:
        back = sa.update(plans).where(plans.c.id == turn.plan)
        connection.execute(back.values(state=turn.after, changed=steps.now()))
    return history.step(connection, contrary)


def _last(connection: sa.Connection) -> Step:
    number = connection.scalar(sa.select(sa.func.max(step_table.c.id)).where(_STANDS))
    if number is None:
        raise NotThere("there is no step to undo.")
    return history.step(connection, number)


def _plan_back(connection: sa.Connection, step: Step) -> PlanTurn | None:
    """What the undo makes of the step's plan. Raises CannotUndo: it has gone on since."""
    query = (
        sa.select(plans, step_table.c.plan_before, step_table.c.plan_after)
        .join(step_table, step_table.c.plan_id == plans.c.id)
        .where(step_table.c.id == step.number)
    )
    row = connection.execute(query).one_or_none()
    if row is None:
        return None
    later = connection.scalar(
        sa.select(sa.func.min(step_table.c.id)).where(
            step_table.c.plan_id == row.id, step_table.c.id > step.number, _STANDS
        )
    )
    if later is not None:
        raise CannotUndo(
            f'step {step.number} cannot be undone: plan "{row.name}" went on with step {later} '
            f"and is {PlanState(row.state).told} by now."
        )
    return PlanTurn(row.id, PlanState(row.state), PlanState(row.plan_before))


def _in_sheets(connection: sa.Connection, moved: Sequence[_Row]) -> Iterator[str]:
    """Kinds of which too few would be left, or that have been written anew since."""
    for move in moved:
        if move.kind_id is None:
            continue
        row = connection.execute(sa.select(kinds).where(kinds.c.id == move.kind_id)).one()
        key = KindKey(row.material, row.gauge, row.name)
        on_hand, reserved = row.on_hand - move.qty, row.reserved - move.promised
        if on_hand < reserved:
            yield f"of {key} {max(on_hand, 0)} would be left, and {reserved} are reserved for plans"
        elif _differs(row, steps.read(move.after)):
            yield f"{key} was changed later"


def _in_offcuts(connection: sa.Connection, moved: Sequence[_Row]) -> Iterator[str]:
    """Offcuts that are not as the step left them."""
    written = {move.offcut: steps.read(move.after) for move in moved if move.offcut is not None}
    if not written:
        return
    here = sa.select(movements.c.offcut).where(movements.c.step_id == moved[0].step_id)
    for row in connection.execute(sa.select(offcuts).where(offcuts.c.number.in_(here))):
        if _differs(row, written[row.number]):
            yield f"{exact.label(row.number)} was changed later, it is {row.state}"


def _differs(row: _Row, written: Changed) -> bool:
    return any(row._mapping[column] != value for column, value in written.items())


def _write_back(connection: sa.Connection, moved: Sequence[_Row]) -> None:
    """Write kinds and offcuts as they were before."""
    for move in moved:
        if move.kind_id is not None and (before := steps.read(move.before)):
            connection.execute(sa.update(kinds).where(kinds.c.id == move.kind_id).values(before))
    for text in {move.before for move in moved if move.offcut is not None and move.before}:
        here = sa.select(movements.c.offcut).where(
            movements.c.step_id == moved[0].step_id,
            movements.c.offcut.is_not(None),
            movements.c.before == text,
        )
        if before := steps.read(text):
            connection.execute(sa.update(offcuts).where(offcuts.c.number.in_(here)).values(before))


def _move_back(connection: sa.Connection, step: int, contrary: int) -> None:
    """The contrary of every movement, the last first."""
    moved = movements.c
    back = (
        sa.select(
            sa.literal(contrary),
            moved.kind_id,
            moved.offcut,
            -moved.qty,
            -moved.promised,
            moved.after,
            moved.before,
        )
        .where(moved.step_id == step)
        .order_by(moved.id.desc())
    )
    columns = ["step_id", "kind_id", "offcut", "qty", "promised", "before", "after"]
    connection.execute(sa.insert(movements).from_select(columns, back))


def _reservations_back(connection: sa.Connection, step: int, contrary: int) -> None:
    """End what the step reserved, reserve anew what it ended."""
    ended = reservations.c.ended_by == step
    connection.execute(sa.update(reservations).where(ended).values(state="live", ended_by=None))
    made = sa.and_(reservations.c.made_by == step, reservations.c.state == "live")
    connection.execute(
        sa.update(reservations).where(made).values(state="released", ended_by=contrary)
    )
