"""The first tables of the stock room."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

MOMENT = sa.DateTime(timezone=True)
SIZE = "width > 0 AND length > 0"
ONE_PIECE = "(kind_id IS NULL) <> (offcut IS NULL)"


def upgrade() -> None:
    """Make the tables, and the triggers that keep their sums."""
    _room()
    _kinds()
    _jobs()
    _plans()
    _offcuts()
    _steps()
    _reservations()
    for statement in TRIGGERS[op.get_bind().dialect.name]:
        op.execute(statement)


def _whole(name: str, null: bool = False) -> sa.Column[int]:
    return sa.Column(name, sa.Integer, nullable=null)


def _text(name: str, null: bool = False) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=null)


def _blank(name: str) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=False, server_default="")


def _key(table: str) -> tuple[sa.Column[int], sa.PrimaryKeyConstraint]:
    return _whole("id"), sa.PrimaryKeyConstraint("id", name=f"pk_{table}")


def _to(table: str, column: str, other: str, key: str = "id") -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.{key}"], name=f"fk_{table}_{column}")


def _check(table: str, name: str, rule: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(rule, name=op.f(f"ck_{table}_{name}"))


def _room() -> None:
    op.create_table(
        "room",
        *_key("room"),
        _text("identity"),
        _whole("next_number"),
        _check("room", "one", "id = 1"),
    )


def _kinds() -> None:
    op.create_table(
        "kinds",
        *_key("kinds"),
        _text("material"),
        _whole("gauge"),
        _text("name"),
        _whole("width"),
        _whole("length"),
        sa.Column("price", sa.BigInteger),
        sa.Column("bought", sa.Boolean, nullable=False),
        sa.Column("on_hand", sa.Integer, nullable=False, server_default="0"),
        sa.Column("reserved", sa.Integer, nullable=False, server_default="0"),
        sa.UniqueConstraint("material", "gauge", "name", name="uq_kinds_material_gauge_name"),
        _check("kinds", "size", SIZE),
        _check("kinds", "price", "price >= 0"),
        _check("kinds", "counts", "0 <= reserved AND reserved <= on_hand"),
    )


def _jobs() -> None:
    op.create_table(
        "jobs",
        *_key("jobs"),
        _text("name"),
        _text("unit"),
        _text("header"),
        _whole("version"),
        sa.Column("created", MOMENT, nullable=False),
        sa.Column("changed", MOMENT, nullable=False),
    )
    op.create_table(
        "job_rows",
        *_key("job_rows"),
        _whole("job_id"),
        _text("key"),
        _whole("position"),
        _text("cells"),
        _whole("version"),
        _to("job_rows", "job_id", "jobs"),
        sa.UniqueConstraint("job_id", "key", name="uq_job_rows_job_id_key"),
    )


def _plans() -> None:
    op.create_table(
        "plans",
        *_key("plans"),
        _text("key"),
        _text("name"),
        _text("state"),
        _text("progress", null=True),
        _blank("told"),
        _blank("folder"),
        _whole("job_id", null=True),
        sa.Column("made", MOMENT, nullable=False),
        sa.Column("changed", MOMENT, nullable=False),
        sa.ForeignKeyConstraint(
            ["job_id"], ["jobs.id"], name="fk_plans_job_id", ondelete="SET NULL"
        ),
        sa.UniqueConstraint("key", name="uq_plans_key"),
        _check("plans", "state", "state IN ('planned', 'committed', 'cut', 'released')"),
        _check(
            "plans",
            "progress",
            "progress IN ('queued', 'running', 'stopped', 'failed', 'done')",
        ),
    )


def _offcuts() -> None:
    op.create_table(
        "offcuts",
        sa.Column("number", sa.Integer, nullable=False, autoincrement=False),
        _text("material"),
        _whole("gauge"),
        _whole("width"),
        _whole("length"),
        _blank("place"),
        _blank("note"),
        _text("state"),
        _whole("plan_id", null=True),
        _blank("sheet"),
        sa.PrimaryKeyConstraint("number", name="pk_offcuts"),
        _to("offcuts", "plan_id", "plans"),
        _check("offcuts", "size", SIZE),
        _check(
            "offcuts",
            "state",
            "state IN ('on rack', 'reserved', 'used', 'scrapped', 'taken back')",
        ),
    )
    op.create_index("ix_offcuts_state_material_gauge", "offcuts", ["state", "material", "gauge"])


def _steps() -> None:
    op.create_table(
        "steps",
        *_key("steps"),
        _text("action"),
        sa.Column("at", MOMENT, nullable=False),
        _blank("who"),
        _blank("note"),
        _whole("plan_id", null=True),
        _text("plan_before", null=True),
        _text("plan_after", null=True),
        _whole("undoes", null=True),
        _to("steps", "plan_id", "plans"),
        _to("steps", "undoes", "steps"),
        sa.UniqueConstraint("undoes", name="uq_steps_undoes"),
    )
    op.create_table(
        "movements",
        *_key("movements"),
        _whole("step_id"),
        _whole("kind_id", null=True),
        _whole("offcut", null=True),
        _whole("qty"),
        _whole("promised"),
        _text("before", null=True),
        _text("after", null=True),
        _to("movements", "step_id", "steps"),
        _to("movements", "kind_id", "kinds"),
        _to("movements", "offcut", "offcuts", "number"),
        _check("movements", "piece", ONE_PIECE),
        _check(
            "movements",
            "offcut",
            "offcut IS NULL OR (qty BETWEEN -1 AND 1 AND promised BETWEEN -1 AND 1)",
        ),
    )
    for column in ("step_id", "kind_id", "offcut"):
        op.create_index(f"ix_movements_{column}", "movements", [column])


def _reservations() -> None:
    op.create_table(
        "reservations",
        *_key("reservations"),
        _whole("plan_id"),
        _whole("kind_id", null=True),
        _whole("offcut", null=True),
        _whole("qty"),
        _text("state"),
        _whole("made_by"),
        _whole("ended_by", null=True),
        _to("reservations", "plan_id", "plans"),
        _to("reservations", "kind_id", "kinds"),
        _to("reservations", "offcut", "offcuts", "number"),
        _to("reservations", "made_by", "steps"),
        _to("reservations", "ended_by", "steps"),
        _check("reservations", "piece", ONE_PIECE),
        _check("reservations", "qty", "qty > 0 AND (offcut IS NULL OR qty = 1)"),
        _check("reservations", "state", "state IN ('live', 'released', 'used')"),
        _check("reservations", "ended", "(state = 'live') = (ended_by IS NULL)"),
    )
    op.create_index("ix_reservations_plan_id", "reservations", ["plan_id"])
    _one_live("uq_reservations_live_offcut", ["offcut"], "offcut")
    _one_live("uq_reservations_live_kind", ["plan_id", "kind_id"], "kind_id")


def _one_live(name: str, columns: list[str], piece: str) -> None:
    rule = sa.text(f"state = 'live' AND {piece} IS NOT NULL")
    op.create_index(
        name, "reservations", columns, unique=True, sqlite_where=rule, postgresql_where=rule
    )


TRIGGERS = {
    "sqlite": (
        """
        CREATE TRIGGER movements_count AFTER INSERT ON movements WHEN NEW.kind_id IS NOT NULL
        BEGIN
            UPDATE kinds SET on_hand = on_hand + NEW.qty, reserved = reserved + NEW.promised
            WHERE id = NEW.kind_id;
        END
        """,
        """
        CREATE TRIGGER movements_stay BEFORE UPDATE ON movements
        BEGIN SELECT RAISE(ABORT, 'movements are never changed'); END
        """,
        """
        CREATE TRIGGER movements_last BEFORE DELETE ON movements
        BEGIN SELECT RAISE(ABORT, 'movements are never deleted'); END
        """,
    ),
    "postgresql": (
        """
        CREATE FUNCTION movements_count() RETURNS trigger LANGUAGE plpgsql AS $$
        BEGIN
            UPDATE kinds SET on_hand = on_hand + NEW.qty, reserved = reserved + NEW.promised
            WHERE id = NEW.kind_id;
            RETURN NULL;
        END $$
        """,
        """
        CREATE TRIGGER movements_count AFTER INSERT ON movements
        FOR EACH ROW WHEN (NEW.kind_id IS NOT NULL) EXECUTE FUNCTION movements_count()
        """,
        """
        CREATE FUNCTION movements_stay() RETURNS trigger LANGUAGE plpgsql AS $$
        BEGIN
            RAISE EXCEPTION 'movements are never changed or deleted';
        END $$
        """,
        """
        CREATE TRIGGER movements_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON movements
        FOR EACH STATEMENT EXECUTE FUNCTION movements_stay()
        """,
    ),
}
