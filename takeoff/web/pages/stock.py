"""Sheets on hand: list, add, count, price."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal, InvalidOperation

from starlette.responses import Response

from takeoff.errors import Fault, StockFault
from takeoff.sizes import size
from takeoff.stockroom import Kind, KindKey, NotAsSeen, RoomRefusal
from takeoff.storekeeping.lists import SheetRow, typed
from takeoff.web.asking import Ask, get, post
from takeoff.web.metal_form import GAUGE, LENGTH, METAL, WIDTH, Column, fields
from takeoff.web.pages import Nav
from takeoff.web.showing import go, show, tell

NAV = Nav(20, "Stock", "/stock")
COLUMNS = (
    METAL,
    GAUGE,
    Column("stock", "Name", "text", "What the shop calls the sheet, such as 4 x 8.", needed=True),
    WIDTH,
    LENGTH,
    Column("qty", "How many", "number", "0 only notes the kind.", needed=True, start="1"),
    Column("cost", "Price of one", "number", "In your own money.", usual="as before, or by weight"),
)
BY_WEIGHT = "weight"


def listing(ask: Ask) -> Response:
    """All kinds of sheet."""
    return _listed(ask)


def add(ask: Ask) -> Response:
    """Sheets are put in, of a kind that is there or a new one."""
    cells = {column.name: ask.text(column.name) for column in COLUMNS}
    try:
        row = typed(SheetRow, ask.shop.profile.unit, **cells)
        ask.desk.room.sheets.add(row.key, row.width, row.length, row.qty, row.cost)
    except StockFault as error:
        return _listed(ask, cells, error.faults, 422)
    except RoomRefusal as error:
        return _listed(ask, cells, told=str(error), status=422)
    tell(ask, f"{row.key}: {row.qty} put in.")
    return go(ask, "/stock")


def sheet(ask: Ask) -> Response:
    """One kind of sheet: count it, price it, and what happened to it."""
    return _one(ask, _key(ask.request.query_params))


def count(ask: Ask) -> Response:
    """The number is set to what was counted."""
    key = _key(ask.form)
    kind = ask.desk.room.sheets.get(key)
    counted = ask.text("counted").strip()
    if not _is_count(counted):
        return _one(ask, key, {"counted": "Give a whole number, 0 or more."})
    was = ask.text("_was")
    seen = replace(kind, on_hand=int(was) if _is_count(was) else -1)
    try:
        ask.desk.room.sheets.count(key, int(counted), ask.text("note"), seen)
    except NotAsSeen:
        now = ask.desk.room.sheets.get(key).on_hand
        told = f"Someone else changed the number meanwhile: {now} by now. Keep it again "
        return _one(ask, key, {"counted": f"{told}if yours is right."}, 409)
    except RoomRefusal as error:
        return _one(ask, key, {"counted": str(error)})
    tell(ask, f"{key}: {counted} on hand.")
    return go(ask, "/stock")


def price(ask: Ask) -> Response:
    """The price of one is set; a blank one goes by weight."""
    key = _key(ask.form)
    kind = ask.desk.room.sheets.get(key)
    try:
        amount = _amount(ask.text("price"))
    except InvalidOperation:
        return _one(ask, key, {"price": "This is no price. Give a number such as 36.40."})
    try:
        ask.desk.room.sheets.price(key, amount, seen=replace(kind, price=_was(ask)))
    except NotAsSeen:
        now = _money(ask.desk.room.sheets.get(key).price)
        told = f"Someone else changed it meanwhile: {now or 'by weight'} by now. "
        return _one(ask, key, {"price": f"{told}Keep it again if yours is right."}, 409)
    except RoomRefusal as error:
        return _one(ask, key, {"price": str(error)})
    tell(ask, f"{key}: the price is kept.")
    return go(ask, "/stock")


def buy(ask: Ask) -> Response:
    """Whether the shop still buys it."""
    key = _key(ask.form)
    bought = ask.text("bought") == "yes"
    ask.desk.room.sheets.buy(key, bought)
    tell(ask, f"{key} is {'bought again' if bought else 'bought no more'}.")
    return go(ask, "/stock")


def _is_count(words: str) -> bool:
    return words.isascii() and words.isdigit() and len(words) < 8


def _amount(words: str) -> Decimal | None:
    """A price as it is typed, None for by weight. Raises InvalidOperation."""
    return None if words.strip().casefold() in ("", BY_WEIGHT) else Decimal(words.strip())


def _was(ask: Ask) -> Decimal | None:
    """The price that the page showed; one that no sheet has where none is told."""
    told = ask.form.get("_was")
    try:
        return Decimal(-1) if told is None else _amount(str(told))
    except InvalidOperation:
        return Decimal(-1)


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else str(amount)


def _key(values: Mapping[str, object]) -> KindKey:
    """The kind that a form or an address names; the room tells where there is none."""
    given = {name: str(values.get(name) or "") for name in ("material", "gauge", "name")}
    gauge = given["gauge"]
    number = int(gauge) if gauge.isascii() and gauge.isdigit() and len(gauge) < 4 else 0
    return KindKey(given["material"], number, given["name"])


def _one(
    ask: Ask, key: KindKey, wrong: dict[str, str] | None = None, status: int = 422
) -> Response:
    kind = ask.desk.room.sheets.get(key)
    return show(
        ask,
        "stock_sheet.html",
        status if wrong else 200,
        kind=kind,
        size=_size(ask, kind),
        counted=ask.text("counted") or str(kind.on_hand),
        price=str(ask.form.get("price", _money(kind.price))),
        priced=_money(kind.price),
        wrong=wrong or {},
        movements=ask.desk.room.sheets.history(key)[::-1],
    )


def _listed(
    ask: Ask,
    cells: dict[str, str] | None = None,
    faults: Sequence[Fault] = (),
    status: int = 200,
    told: str = "",
) -> Response:
    found, general = fields(COLUMNS, cells or {}, faults)
    return show(
        ask,
        "stock.html",
        status,
        kinds=[(kind, _size(ask, kind)) for kind in ask.desk.room.sheets.all()],
        fields=found,
        general=[*general, *([(told, "")] if told else [])],
        unit=ask.shop.profile.unit,
        opened=bool(cells),
    )


def _size(ask: Ask, kind: Kind) -> str:
    return size(kind.width, kind.length, ask.shop.profile.unit)


ROUTES = [
    get("/stock", listing),
    post("/stock", add),
    get("/stock/sheet", sheet),
    post("/stock/sheet/count", count),
    post("/stock/sheet/price", price),
    post("/stock/sheet/buy", buy),
]
