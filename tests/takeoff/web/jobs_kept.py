"""Small jobs for the tests of pages."""

from pathlib import Path

from takeoff.lengths import INCH, Unit
from takeoff.stockroom import StoredJob
from takeoff.web.desk import Desk
from takeoff.web.rows import new_row

BAKERY = Path(__file__).parents[3] / "data" / "bakery.csv"

DUCT = {
    "mark": "D1",
    "fitting": "straight duct",
    "gauge": "26",
    "width": "20",
    "height": "8",
    "length": "47",
}


def kept(desk: Desk, *rows: dict[str, str], name: str = "Elm", unit: Unit = INCH) -> StoredJob:
    """A job with these rows."""
    return desk.jobs.create(name, unit, [new_row(row) for row in rows])


def cells(desk: Desk, job: StoredJob) -> list[dict[str, str]]:
    """What stands in the rows of the job now."""
    return [dict(row.cells) for row in desk.jobs.get(job.id).rows]
