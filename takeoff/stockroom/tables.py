"""The tables of the stock room. How they came to be is in `migrations`; both must tell the same.

What a kind has on hand and has promised are the sums of its movements: triggers of the database
keep them, movements can only be added, and checks refuse less than nothing.
"""

from __future__ import annotations

from datetime import UTC, datetime

import sqlalchemy as sa

metadata = sa.MetaData(
    naming_convention={
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    }
)


class UtcTime(sa.TypeDecorator[datetime]):
    """A moment, UTC, on databases with and without time zones."""

    impl = sa.DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, _: sa.Dialect) -> datetime | None:
        """To the database."""
        return None if value is None else value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, _: sa.Dialect) -> datetime | None:
        """From the database."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def _id() -> sa.Column[int]:
    return sa.Column("id", sa.Integer, primary_key=True)


def _to(table: str, column: str, null: bool = True, key: str = "id") -> sa.Column[int]:
    return sa.Column(column, sa.Integer, sa.ForeignKey(f"{table}.{key}"), nullable=null)


def _text(column: str) -> sa.Column[str]:
    return sa.Column(column, sa.Text, nullable=False, server_default="")


room = sa.Table(
    "room",
    metadata,
    _id(),
    sa.Column("identity", sa.Text, nullable=False),
    sa.Column("next_number", sa.Integer, nullable=False),
    sa.CheckConstraint("id = 1", name="one"),
)

kinds = sa.Table(
    "kinds",
    metadata,
    _id(),
    sa.Column("material", sa.Text, nullable=False),
    sa.Column("gauge", sa.Integer, nullable=False),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("width", sa.Integer, nullable=False),
    sa.Column("length", sa.Integer, nullable=False),
    sa.Column("price", sa.BigInteger),
    sa.Column("bought", sa.Boolean, nullable=False),
    sa.Column("on_hand", sa.Integer, nullable=False, server_default="0"),
    sa.Column("reserved", sa.Integer, nullable=False, server_default="0"),
    sa.UniqueConstraint("material", "gauge", "name"),
    sa.CheckConstraint("width > 0 AND length > 0", name="size"),
    sa.CheckConstraint("price >= 0", name="price"),
    sa.CheckConstraint("0 <= reserved AND reserved <= on_hand", name="counts"),
)

jobs = sa.Table(
    "jobs",
    metadata,
    _id(),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("unit", sa.Text, nullable=False),
    sa.Column("header", sa.Text, nullable=False),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("created", UtcTime, nullable=False),
    sa.Column("changed", UtcTime, nullable=False),
)

job_rows = sa.Table(
    "job_rows",
    metadata,
    _id(),
    _to("jobs", "job_id", null=False),
    sa.Column("key", sa.Text, nullable=False),
    sa.Column("position", sa.Integer, nullable=False),
    sa.Column("cells", sa.Text, nullable=False),
    sa.Column("version", sa.Integer, nullable=False),
    sa.UniqueConstraint("job_id", "key"),
)

plans = sa.Table(
    "plans",
    metadata,
    _id(),
    sa.Column("key", sa.Text, nullable=False, unique=True),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("state", sa.Text, nullable=False),
    sa.Column("progress", sa.Text),
    _text("told"),
    _text("folder"),
    sa.Column("job_id", sa.Integer, sa.ForeignKey("jobs.id", ondelete="SET NULL")),
    sa.Column("made", UtcTime, nullable=False),
    sa.Column("changed", UtcTime, nullable=False),
    sa.CheckConstraint("state IN ('planned', 'committed', 'cut', 'released')", name="state"),
    sa.CheckConstraint(
        "progress IN ('queued', 'running', 'stopped', 'failed', 'done')", name="progress"
    ),
)

offcuts = sa.Table(
    "offcuts",
    metadata,
    sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("material", sa.Text, nullable=False),
    sa.Column("gauge", sa.Integer, nullable=False),
    sa.Column("width", sa.Integer, nullable=False),
    sa.Column("length", sa.Integer, nullable=False),
    _text("place"),
    _text("note"),
    sa.Column("state", sa.Text, nullable=False),
    _to("plans", "plan_id"),
    _text("sheet"),
    sa.CheckConstraint("width > 0 AND length > 0", name="size"),
    sa.CheckConstraint(
        "state IN ('on rack', 'reserved', 'used', 'scrapped', 'taken back')", name="state"
    ),
    sa.Index("ix_offcuts_state_material_gauge", "state", "material", "gauge"),
)

steps = sa.Table(
    "steps",
    metadata,
    _id(),
    sa.Column("action", sa.Text, nullable=False),
    sa.Column("at", UtcTime, nullable=False),
    _text("who"),
    _text("note"),
    _to("plans", "plan_id"),
    sa.Column("plan_before", sa.Text),
    sa.Column("plan_after", sa.Text),
    sa.Column("undoes", sa.Integer, sa.ForeignKey("steps.id"), unique=True),
)

movements = sa.Table(
    "movements",
    metadata,
    _id(),
    _to("steps", "step_id", null=False),
    _to("kinds", "kind_id"),
    _to("offcuts", "offcut", key="number"),
    sa.Column("qty", sa.Integer, nullable=False),
    sa.Column("promised", sa.Integer, nullable=False),
    sa.Column("before", sa.Text),
    sa.Column("after", sa.Text),
    sa.CheckConstraint("(kind_id IS NULL) <> (offcut IS NULL)", name="piece"),
    sa.CheckConstraint(
        "offcut IS NULL OR (qty BETWEEN -1 AND 1 AND promised BETWEEN -1 AND 1)", name="offcut"
    ),
    sa.Index("ix_movements_step_id", "step_id"),
    sa.Index("ix_movements_kind_id", "kind_id"),
    sa.Index("ix_movements_offcut", "offcut"),
)

reservations = sa.Table(
    "reservations",
    metadata,
    _id(),
    _to("plans", "plan_id", null=False),
    _to("kinds", "kind_id"),
    _to("offcuts", "offcut", key="number"),
    sa.Column("qty", sa.Integer, nullable=False),
    sa.Column("state", sa.Text, nullable=False),
    _to("steps", "made_by", null=False),
    _to("steps", "ended_by"),
    sa.CheckConstraint("(kind_id IS NULL) <> (offcut IS NULL)", name="piece"),
    sa.CheckConstraint("qty > 0 AND (offcut IS NULL OR qty = 1)", name="qty"),
    sa.CheckConstraint("state IN ('live', 'released', 'used')", name="state"),
    sa.CheckConstraint("(state = 'live') = (ended_by IS NULL)", name="ended"),
    sa.Index("ix_reservations_plan_id", "plan_id"),
)

LIVE = reservations.c.state == "live"
sa.Index(
    "uq_reservations_live_offcut",
    reservations.c.offcut,
    unique=True,
    sqlite_where=LIVE & reservations.c.offcut.is_not(None),
    postgresql_where=LIVE & reservations.c.offcut.is_not(None),
)
sa.Index(
    "uq_reservations_live_kind",
    reservations.c.plan_id,
    reservations.c.kind_id,
    unique=True,
    sqlite_where=LIVE & reservations.c.kind_id.is_not(None),
    postgresql_where=LIVE & reservations.c.kind_id.is_not(None),
)
