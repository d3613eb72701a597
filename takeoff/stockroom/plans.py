"""Plans: what they reserve, what they give back, what their cutting takes and leaves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import sqlalchemy as sa

from . import exact, history, rack, steps
from .errors import NotThere, PiecesGone, WrongState
from .promises import Promise, Wanted, must_be_counts, sums
from .records import (
    Action,
    Gone,
    Needs,
    NewOffcut,
    Offcut,
    OffcutState,
    PlanRecord,
    PlanState,
    Progress,
    Step,
)
from .steps import Move, PlanTurn
from .tables import LIVE, plans, reservations
from .tables import steps as step_table
from .transactions import Transactions

NO_PAPERS = "Its papers were deleted."


class Plans:
    """The plans that a stock room knows."""

    def __init__(self, transactions: Transactions, who: str) -> None:
        self._transactions = transactions
        self._who = who

    def note(
        self,
        key: str,
        name: str,
        folder: str | None = None,
        job: int | None = None,
        progress: Progress | None = None,
        told: str | None = None,
    ) -> PlanRecord:
        """Note a plan, or what is new of one that is known; None leaves as it is.

        Raises:
            Unkeepable: a text cannot be kept.
        """
        given = {"name": exact.name(name), "folder": folder, "told": told}
        texts = {key: exact.text(each, key) for key, each in given.items() if each is not None}
        others = {"job_id": job, "progress": progress}
        values = texts | {key: each for key, each in others.items() if each is not None}

        def work(connection: sa.Connection) -> PlanRecord:
            plan = _noted(connection, key, name)
            _write(connection, plan, values)
            return _record(_row(connection, key))

        return self._transactions.write(work)

    def follow(self, key: str, progress: Progress, told: str = "") -> PlanRecord:
        """Note how far the making of a plan has come. Raises NotThere."""

        def work(connection: sa.Connection) -> PlanRecord:
            values = {"progress": progress, "told": exact.text(told)}
            _write(connection, _row(connection, key).id, values)
            return _record(_row(connection, key))

        return self._transactions.write(work)

    def set_aside(self, keys: Iterable[str]) -> None:
        """Note that the papers of plans are deleted; a key that is not known is left out.

        Raises:
            WrongState: metal is reserved for one; nothing is noted of any.
        """
        self._transactions.write(lambda connection: set_aside(connection, keys))

    def all(self) -> tuple[PlanRecord, ...]:
        """Every plan, the one noted last first."""
        query = sa.select(plans).order_by(plans.c.id.desc())
        return self._transactions.read(lambda c: tuple(map(_record, c.execute(query))))

    def get(self, key: str) -> PlanRecord:
        """One plan. Raises NotThere."""
        return self._transactions.read(lambda c: _record(_row(c, key)))

    def reserved(self, key: str) -> Needs:
        """What is promised to a plan at the moment. Raises NotThere."""
        return self._transactions.read(lambda c: Promise.to(c, _row(c, key).id).needs(c))

    def left(self, key: str) -> tuple[Offcut, ...]:
        """The offcuts that its cutting left, as far as they stand on the rack. Raises NotThere."""
        return self._transactions.read(lambda c: rack.left_by(c, _row(c, key).id))

    def missing(self, needs: Needs) -> tuple[Gone, ...]:
        """What of these needs is not free at the moment; none is reserved."""
        return self._transactions.read(lambda c: tuple(Wanted.of(c, needs).gone))

    def commit(self, key: str, name: str, needs: Needs, folder: str = "") -> Step:
        """Reserve all that a plan needs. A plan that has it reserved already changes nothing.

        Raises:
            PiecesGone: some of it is not free; `gone` lists all of that. Nothing is reserved.
            WrongState: the plan is cut, or has other pieces reserved.
            Unkeepable: a need of less than one sheet, or a name that cannot be kept.
        """
        must_be_counts(needs)
        exact.name(name, "name of the plan")

        def work(connection: sa.Connection) -> Step:
            plan = _noted(connection, key, name)
            before = PlanState(_row(connection, key).state)
            if before is PlanState.CUT:
                raise WrongState(f'plan "{name}" is cut: its metal has left the stock room.')
            if before is PlanState.COMMITTED:
                return _again(connection, plan, name, needs)
            wanted = Wanted.of(connection, needs)
            if wanted.gone:
                raise PiecesGone(wanted.gone)
            if folder:
                _write(connection, plan, {"folder": exact.text(folder, "folder")})
            return self._reserve(connection, PlanTurn(plan, before, PlanState.COMMITTED), wanted)

        return self._transactions.write(work)

    def release(self, key: str, note: str = "") -> Step:
        """Release what a plan has reserved. Raises NotThere; WrongState: it has nothing."""
        return self._end(key, PlanState.RELEASED, (), note)

    def cut(self, key: str, kept: Sequence[NewOffcut] = (), note: str = "") -> Step:
        """Take out what a plan has reserved, put on the rack what it leaves.

        Returns:
            The step; its labels are those of `kept`, in their order.

        Raises:
            NotThere: no such plan.
            WrongState: it is not committed.
            Unkeepable, UnknownMaterial, UnknownGauge: a kept piece cannot be kept.
        """
        return self._end(key, PlanState.CUT, [rack.checked(piece) for piece in kept], note)

    def _reserve(self, connection: sa.Connection, turn: PlanTurn, wanted: Wanted) -> Step:
        step = steps.begin(connection, Action.COMMIT, self._who, turn=turn)
        states = OffcutState.ON_RACK, OffcutState.RESERVED
        moves = rack.turned(connection, wanted.offcuts, *states, promised=1)
        moves += [Move(kind=kind, promised=qty) for kind, qty in wanted.sheets.items()]
        steps.move(connection, step, moves)
        common = {"plan_id": turn.plan, "state": "live", "made_by": step}
        pieces = [
            *({"kind_id": kind, "offcut": None, "qty": n} for kind, n in wanted.sheets.items()),
            *({"kind_id": None, "offcut": number, "qty": 1} for number in wanted.offcuts),
        ]
        steps.in_bulk(connection, reservations, [{**common, **piece} for piece in pieces])
        _write(connection, turn.plan, {"state": turn.after})
        return history.step(connection, step)

    def _end(self, key: str, after: PlanState, kept: Sequence[NewOffcut], note: str) -> Step:
        cut = after is PlanState.CUT

        def work(connection: sa.Connection) -> Step:
            row = _row(connection, key)
            before = _must_be_committed(_record(row), after)
            turn = PlanTurn(row.id, before, after)
            action = Action.CUT if cut else Action.RELEASE
            step = steps.begin(connection, action, self._who, exact.text(note, "note"), turn)
            moves = Promise.to(connection, row.id).end(connection, cut)
            ended = sa.update(reservations).where(reservations.c.plan_id == row.id, LIVE)
            connection.execute(ended.values(state="used" if cut else "released", ended_by=step))
            numbers = rack.next_numbers(connection, len(kept)) if kept else ()
            moves += rack.onto_rack(connection, kept, numbers, row.id)
            steps.move(connection, step, moves)
            _write(connection, row.id, {"state": after})
            return history.step(connection, step)

        return self._transactions.write(work)


def _noted(connection: sa.Connection, key: str, name: str) -> int:
    """The id of a plan, noted for the occasion where it is new."""
    found = connection.scalar(sa.select(plans.c.id).where(plans.c.key == key))
    if found is not None:
        return int(found)
    moment = steps.now()
    values = {
        "key": exact.name(key, "key of the plan"),
        "name": name,
        "state": PlanState.PLANNED,
        "made": moment,
        "changed": moment,
    }
    added = connection.execute(sa.insert(plans).values(values).returning(plans.c.id))
    return int(added.scalar_one())


def set_aside(connection: sa.Connection, keys: Iterable[str]) -> None:
    """As `Plans.set_aside`, in a transaction that does more."""
    for row in connection.execute(sa.select(plans).where(plans.c.key.in_(list(keys)))).all():
        if row.state == PlanState.COMMITTED:
            raise WrongState(
                f'Metal is reserved for the plan "{row.name}". Release it first, then delete it.'
            )
        _write(connection, row.id, {"progress": Progress.STOPPED, "told": NO_PAPERS})


def _row(connection: sa.Connection, key: str) -> sa.Row[tuple[object, ...]]:
    found = connection.execute(sa.select(plans).where(plans.c.key == key)).one_or_none()
    if found is None:
        raise NotThere("the stock room does not know the plan: commit it first.")
    return found


def _record(row: sa.Row[tuple[object, ...]]) -> PlanRecord:
    return PlanRecord(
        row.key,
        row.name,
        PlanState(row.state),
        None if row.progress is None else Progress(row.progress),
        row.folder,
        row.job_id,
        row.made,
        row.changed,
        row.told,
    )


def _write(connection: sa.Connection, plan: int, values: Mapping[str, object]) -> None:
    change = sa.update(plans).where(plans.c.id == plan)
    connection.execute(change.values({**values, "changed": steps.now()}))


def _again(connection: sa.Connection, plan: int, name: str, needs: Needs) -> Step:
    """The step that reserved the very same for the plan before."""
    held = Promise.to(connection, plan).needs(connection)
    labels = {exact.label(exact.number(label)) for label in needs.offcuts}
    if (sums(held.sheets), set(held.offcuts)) != (sums(needs.sheets), labels):
        raise WrongState(f'plan "{name}" has other pieces reserved: release it first.')
    last = sa.select(sa.func.max(step_table.c.id)).where(
        step_table.c.plan_id == plan, step_table.c.plan_after == PlanState.COMMITTED
    )
    return history.step(connection, connection.execute(last).scalar_one())


def _must_be_committed(plan: PlanRecord, after: PlanState) -> PlanState:
    if plan.state is not PlanState.COMMITTED:
        what = "it is cut already" if plan.state is PlanState.CUT else "nothing is reserved for it"
        raise WrongState(f'plan "{plan.name}" cannot be {after}: {what}.')
    return plan.state
