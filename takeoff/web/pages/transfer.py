"""Job lists in from a file, and out to one."""

from __future__ import annotations

from pathlib import PurePath

from starlette.responses import Response

from takeoff.errors import JobFaults
from takeoff.jobs.files import cells_of
from takeoff.jobs.write_csv import csv_text
from takeoff.jobs.write_xlsx import xlsx_bytes
from takeoff.lengths import INCH, UNITS
from takeoff.papers.names import file_word
from takeoff.plural import many
from takeoff.web.asking import Ask, get, post
from takeoff.web.pages.jobs import LONGEST_NAME
from takeoff.web.reading import imported, table_of
from takeoff.web.showing import go, show, tell

MOST_FAULTS = 200
"""So many are shown; a list with more has one fault behind them all."""
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def bring(ask: Ask) -> Response:
    """A job list becomes a job, or is refused with all that is wrong with it."""
    upload = ask.upload("list")
    if upload is None:
        tell(ask, "No file was chosen. Choose a CSV or XLSX job list.", "wrong")
        return go(ask, "/jobs")
    source, data = PurePath(upload[0].replace("\\", "/")).name, upload[1]
    shop = ask.shop
    unit = UNITS.get(ask.text("units"), INCH)
    try:
        stem = PurePath(source).stem
        name, unit, rows = imported(cells_of(data, source), stem, source, shop.profile.code, unit)
    except JobFaults as error:
        faults = error.faults
        more = max(0, len(faults) - MOST_FAULTS)
        return show(ask, "import.html", 422, source=source, faults=faults[:MOST_FAULTS], more=more)
    job = ask.desk.jobs.create(name[:LONGEST_NAME], unit, rows)
    tell(ask, f"{source} is brought in with {many(len(rows), 'row')}.")
    return go(ask, f"/jobs/{job.id}")


def as_csv(ask: Ask) -> Response:
    """The job list as it is written, as CSV."""
    job = ask.desk.jobs.get(ask.number("job"))
    words = csv_text(table_of(job))
    return _file(
        words.encode("utf-8-sig"), file_word(job.name, "job") + ".csv", "text/csv; charset=utf-8"
    )


def as_xlsx(ask: Ask) -> Response:
    """The job list as it is written, as a workbook."""
    job = ask.desk.jobs.get(ask.number("job"))
    return _file(xlsx_bytes(table_of(job)), file_word(job.name, "job") + ".xlsx", WORKBOOK)


def _file(data: bytes, name: str, kind: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(data, media_type=kind, headers=headers)


ROUTES = [
    post("/jobs/import", bring),
    get("/jobs/{job:int}/job.csv", as_csv),
    get("/jobs/{job:int}/job.xlsx", as_xlsx),
]
