"""What steps changed, in words: a kind of sheet, an offcut, or the first and last of many."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import sqlalchemy as sa

from takeoff.plural import many

from . import exact
from .records import KindKey
from .tables import kinds, movements

_Row = sa.Row[tuple[object, ...]]


def touched(connection: sa.Connection, numbers: Iterable[int]) -> dict[int, str]:
    """Of each step that moved anything what that was: `R-000001 to R-000012`."""
    of_kinds, of_offcuts = movements.c.kind_id, movements.c.offcut
    query = (
        sa.select(
            movements.c.step_id,
            sa.func.count(of_kinds.distinct()).label("kinds"),
            sa.func.min(of_kinds).label("kind"),
            sa.func.count(of_offcuts.distinct()).label("offcuts"),
            sa.func.min(of_offcuts).label("first"),
            sa.func.max(of_offcuts).label("last"),
        )
        .where(movements.c.step_id.in_(list(numbers)))
        .group_by(movements.c.step_id)
    )
    rows = connection.execute(query).all()
    named = _names(connection, {row.kind for row in rows if row.kind is not None})
    return {row.step_id: ", ".join(_told(row, named)) for row in rows}


def _names(connection: sa.Connection, wanted: Iterable[int]) -> dict[int, KindKey]:
    query = sa.select(kinds.c.id, kinds.c.material, kinds.c.gauge, kinds.c.name)
    found = connection.execute(query.where(kinds.c.id.in_(list(wanted))))
    return {row.id: KindKey(row.material, row.gauge, row.name) for row in found}


def _told(row: _Row, named: Mapping[int, KindKey]) -> Iterator[str]:
    if row.kind is not None:
        more = f" and {many(row.kinds - 1, 'more kind')}" if row.kinds > 1 else ""
        yield f"{named[row.kind]}{more}"
    if row.first is not None:
        yield _span(row.offcuts, row.first, row.last)


def _span(count: int, first: int, last: int) -> str:
    """Labels that follow each other, or how many there are among others."""
    ends = exact.label(first), exact.label(last)
    if count == 1:
        return ends[0]
    if last - first + 1 == count:
        return f"{ends[0]} to {ends[1]}"
    return f"{many(count, 'offcut')} from {ends[0]} to {ends[1]}"
