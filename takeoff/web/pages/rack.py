"""The rack: what stands on it, to scale; add by measuring, move, scrap; labels to print."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from starlette.exceptions import HTTPException
from starlette.responses import Response

from takeoff.drawing.paper import Paper
from takeoff.drawing.rack_label import rack_label
from takeoff.errors import Fault, StockFault
from takeoff.papers.labels_pdf import POINTS_IN_AN_INCH, LabelSize, write_labels
from takeoff.papers.rack_pictures import write_pictures
from takeoff.stockroom import NotAsSeen, Offcut, OffcutState, RoomRefusal
from takeoff.storekeeping.lists import RackRow, typed
from takeoff.storekeeping.taking import on_rack
from takeoff.web.asking import Ask, get, post
from takeoff.web.metal_form import GAUGE, LENGTH, METAL, WIDTH, Column, fields
from takeoff.web.pages import Nav
from takeoff.web.paging import paged
from takeoff.web.rack_view import metals, views
from takeoff.web.showing import go, show, tell

NAV = Nav(30, "Rack", "/rack")
A_PAGE = 100
MOST_LABELS = 1000
"""In one file; so many take a quarter of a minute."""
LABEL = LabelSize(4.0 * POINTS_IN_AN_INCH, 2.0 * POINTS_IN_AN_INCH)
COLUMNS = (
    METAL,
    GAUGE,
    WIDTH,
    LENGTH,
    Column("place", "Where it stands", "text", "Such as bay 3.", usual="nothing written"),
    Column("qty", "How many of this size", "number", start="1"),
    Column("note", "Note", "text", usual="none"),
)


def listing(ask: Ask) -> Response:
    """What stands on the rack."""
    return _listed(ask)


def add(ask: Ask) -> Response:
    """Offcuts are put on the rack; each gets a label of its own."""
    cells = {column.name: ask.text(column.name) for column in COLUMNS}
    try:
        row = typed(RackRow, ask.shop.profile.unit, **cells)
        step = ask.desk.room.rack.add(row.offcuts())
    except StockFault as error:
        return _listed(ask, cells, error.faults, 422)
    except RoomRefusal as error:
        return _listed(ask, cells, told=str(error), status=422)
    labels = step.labels
    told = labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"
    tell(ask, f"On the rack: {told}. Write the label on the metal.")
    return go(ask, "/rack")


def piece(ask: Ask) -> Response:
    """One offcut and all that happened to it."""
    offcut = ask.desk.room.rack.get(ask.part("label"))
    return _piece(ask, offcut, offcut.place, offcut.note)


def _piece(ask: Ask, offcut: Offcut, place: str, note: str, others: str = "") -> Response:
    """The page of an offcut; `others`: what someone else was quicker with than this form."""
    (view,) = views([offcut], ask.shop.profile.unit, among=[offcut])
    return show(
        ask,
        "rack_piece.html",
        409 if others else 200,
        piece=view,
        place=place,
        note=note,
        others=others,
        movements=ask.desk.room.rack.history(offcut.label)[::-1],
        standing=offcut.state in (OffcutState.ON_RACK, OffcutState.RESERVED),
        free=offcut.state is OffcutState.ON_RACK,
    )


def change(ask: Ask) -> Response:
    """Another place and note."""
    seen = _seen(ask)
    place, note = ask.text("place").strip(), ask.text("note").strip()
    try:
        ask.desk.room.rack.change(seen.label, place, note, seen)
    except NotAsSeen:
        now = ask.desk.room.rack.get(seen.label)
        if (now.place, now.note) != (place, note):
            return _piece(ask, now, place, note, "What you typed is still below")
    tell(ask, f"Place and note of {seen.label} are kept.")
    return go(ask, f"/rack/{seen.label}")


def scrap(ask: Ask) -> Response:
    """Thrown away, unless it is promised to a plan."""
    seen = _seen(ask)
    label = seen.label
    try:
        ask.desk.room.rack.scrap([label], ask.text("reason").strip(), [seen])
    except NotAsSeen:
        now = ask.desk.room.rack.get(label)
        return _piece(ask, now, now.place, now.note, "It was not scrapped")
    tell(ask, f"{label} is off the rack. It can be undone on the page of steps.")
    return go(ask, "/rack")


def _seen(ask: Ask) -> Offcut:
    """The offcut as the page showed it: its place and note may be others by now."""
    now = ask.desk.room.rack.get(ask.part("label"))
    return replace(now, place=ask.text("_place"), note=ask.text("_note"))


def labels(ask: Ask) -> Response:
    """Labels to print, every one that is asked for."""
    pieces = _to_label(ask)
    if not pieces:
        raise HTTPException(404)
    if len(pieces) > MOST_LABELS:
        raise HTTPException(
            400,
            f"These are {len(pieces)} labels, and one file has {MOST_LABELS} at most: take one "
            "metal at a time, or print them with the command rack labels",
        )
    unit = ask.shop.profile.unit
    texts = [rack_label(on_rack(each), unit) for each in pieces]
    return _pdf("labels", lambda file: write_labels(texts, file, LABEL, Paper.LETTER))


def pictures(ask: Ask) -> Response:
    """The rack in pictures, to print."""
    unit = ask.shop.profile.unit
    pieces = [on_rack(each) for each in _chosen(ask)]
    return _pdf("rack", lambda file: write_pictures(pieces, file, unit))


def _pdf(name: str, write: Callable[[Path], object]) -> Response:
    with TemporaryDirectory() as folder:
        file = Path(folder) / f"{name}.pdf"
        write(file)
        headers = {"Content-Disposition": f'attachment; filename="{name}.pdf"'}
        return Response(file.read_bytes(), media_type="application/pdf", headers=headers)


def _to_label(ask: Ask) -> Sequence[Offcut]:
    """The pieces named, or those that the cutting of a plan left, or all of a metal."""
    query, room = ask.request.query_params, ask.desk.room
    if asked := query.getlist("label"):
        return [room.rack.get(each) for each in dict.fromkeys(asked)]
    if plan := query.get("plan"):
        return room.plans.left(plan)
    return _chosen(ask)


def _chosen(ask: Ask) -> Sequence[Offcut]:
    """What stands on the rack of the metal that is asked for, all without one."""
    return _of_metal(ask, ask.desk.room.rack.all())


def _of_metal(ask: Ask, every: Sequence[Offcut]) -> Sequence[Offcut]:
    metal = ask.request.query_params.get("metal", "")
    return [each for each in every if metal in ("", f"{each.material} {each.gauge}")]


def _listed(
    ask: Ask,
    cells: dict[str, str] | None = None,
    faults: Sequence[Fault] = (),
    status: int = 200,
    told: str = "",
) -> Response:
    unit = ask.shop.profile.unit
    found, general = fields(COLUMNS, cells or {}, faults)
    every = ask.desk.room.rack.all()
    chosen = _of_metal(ask, every)
    paging = paged(ask, len(chosen), A_PAGE)
    return show(
        ask,
        "rack.html",
        status,
        pieces=views([chosen[place] for place in paging.places], unit, among=chosen),
        count=len(chosen),
        metals=metals(every),
        metal=ask.request.query_params.get("metal", ""),
        paging=paging,
        fields=found,
        general=[*general, *([(told, "")] if told else [])],
        unit=unit,
        opened=bool(cells),
    )


ROUTES = [
    get("/rack", listing),
    post("/rack", add),
    get("/rack/labels.pdf", labels),
    get("/rack/pictures.pdf", pictures),
    get("/rack/{label}", piece),
    post("/rack/{label}", change),
    post("/rack/{label}/scrap", scrap),
]
