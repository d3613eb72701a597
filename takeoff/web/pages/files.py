"""The files of a plan or comparison, to be kept: those that belong to it and no other."""

from __future__ import annotations

from pathlib import Path

from starlette.exceptions import HTTPException
from starlette.responses import FileResponse, Response

from takeoff.papers.names import file_word
from takeoff.web.asking import Ask, get
from takeoff.web.pages.result import Unreadable, finished, summary
from takeoff.web.runs import Kind, Run
from takeoff.web.runs.pattern_zip import ARCHIVE, patterns
from takeoff.web.showing import show


def listing(ask: Ask) -> Response:
    """All files of a run."""
    run = finished(ask, None)
    return show(ask, "files.html", run=run, files=summary(ask, run)["files"])


def file(ask: Ask) -> Response:
    """One of them, to be kept."""
    run = finished(ask, None)
    name = ask.part("name")
    if name not in summary(ask, run)["files"]:
        raise HTTPException(404)
    return _sent(run, ask.desk.runs.papers(run) / name)


def archive(ask: Ask) -> Response:
    """Every blank at full size, DXF and SVG; made when it is asked for first."""
    run = finished(ask, Kind.PLAN)
    return _sent(run, patterns(ask.desk.runs.papers(run).parent))


def _sent(run: Run, path: Path) -> Response:
    try:
        path.open("rb").close()
    except OSError as error:
        raise Unreadable(run, error) from error
    name = f"{file_word(run.about.name, 'job')}-{path.name}"
    headers = {"Cache-Control": "private, max-age=3600"}
    return FileResponse(path, filename=name, headers=headers, content_disposition_type="attachment")


ROUTES = [
    get("/runs/{run}/files", listing),
    get(f"/runs/{{run}}/{ARCHIVE}", archive),
    get("/runs/{run}/files/{name:path}", file),
]
