"""`blankwright stock`: the sheets on hand, counted and priced."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from takeoff.plural import many

from .options import ProfileFile, Remark, RoomPlace
from .outcome import stoppable
from .shown import show_table, tell_step, write_file

if TYPE_CHECKING:
    from decimal import Decimal

    from takeoff.stockroom import Kind, KindKey

Metal = Annotated[str, typer.Argument(metavar="METAL", help="Such as galvanized.")]
Gauge = Annotated[str, typer.Argument(metavar="GAUGE", help="Its number.")]
Sheet = Annotated[
    str, typer.Argument(metavar="SHEET", help="What the shop calls the sheet, such as '4 x 8'.")
]

stock = typer.Typer(
    help="The sheets on hand: list, add, count, price.",
    no_args_is_help=True,
    rich_markup_mode=None,
)


def _listing(room: RoomPlace = None, profile: ProfileFile = None) -> None:
    """List the kinds of sheet, how many there are, and how many are reserved for plans."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.sizes import sides  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    shop = load(profile)
    with open_existing(place_of(room, shop)) as opened:
        kinds, place = opened.sheets.all(), opened.place
    titles = ("Metal", "Sheet", f"Size ({shop.unit.name})", "On hand", "Reserved", "Free", "Price")
    rows = [
        (
            f"{kind.key.material} {kind.key.gauge} ga",
            kind.key.name,
            sides(kind.width, kind.length, shop.unit),
            str(kind.on_hand),
            str(kind.reserved),
            str(kind.free),
            _price(kind),
        )
        for kind in kinds
    ]
    show_table(titles, rows, ("On hand", "Reserved", "Free", "Price"))
    typer.echo(f"{many(len(kinds), 'kind', 'of sheet')} in {place}")


def add(
    metal: Metal,
    gauge: Gauge,
    sheet: Sheet,
    width: Annotated[str, typer.Argument(metavar="WIDTH", help="As a tape reads it.")],
    length: Annotated[str, typer.Argument(metavar="LENGTH", help="As a tape reads it.")],
    qty: Annotated[
        str, typer.Option("--qty", metavar="N", help="How many; 0 only notes the kind.")
    ] = "1",
    price: Annotated[
        str, typer.Option("--price", metavar="MONEY", help="Of one; without it as before.")
    ] = "",
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Remark = "",
) -> None:
    """Put sheets in, of a kind that is there or a new one."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.lists import SheetRow, typed  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_or_set_up, place_of  # noqa: PLC0415

    shop = load(profile)
    size = {"width": width, "length": length}
    row = typed(
        SheetRow, shop.unit, material=metal, gauge=gauge, stock=sheet, **size, qty=qty, cost=price
    )
    with open_or_set_up(place_of(room, shop)) as opened:
        tell_step(opened.sheets.add(row.key, row.width, row.length, row.qty, row.cost, note))
        _tell(opened.sheets.get(row.key))


def count(
    metal: Metal,
    gauge: Gauge,
    sheet: Sheet,
    counted: Annotated[int, typer.Argument(metavar="N", min=0, help="How many there are.")],
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Remark = "",
) -> None:
    """Set how many sheets there are to what was counted."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    key = _key(metal, gauge, sheet)
    with open_existing(place_of(room, load(profile))) as opened:
        tell_step(opened.sheets.count(key, counted, note))
        _tell(opened.sheets.get(key))


def price(
    metal: Metal,
    gauge: Gauge,
    sheet: Sheet,
    money: Annotated[
        str,
        typer.Argument(
            metavar="MONEY", help="Of one sheet; 'weight': by the profile's price per pound."
        ),
    ],
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Remark = "",
) -> None:
    """Set what one sheet costs."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    key, amount = _key(metal, gauge, sheet), _money(money)
    with open_existing(place_of(room, load(profile))) as opened:
        tell_step(opened.sheets.price(key, amount, note))
        _tell(opened.sheets.get(key))


def bring_in(
    file: Annotated[Path, typer.Argument(metavar="CSV", help="A stock list, as plan takes it.")],
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Remark = "",
) -> None:
    """Set kinds, counts and prices by a stock list, all or none.

    A blank qty leaves the count as it is, a blank cost the price. Kinds that are not listed stay.
    """
    from takeoff.metal_lists import read_text  # noqa: PLC0415 - slow to load
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.lists import read_stock  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_or_set_up, place_of  # noqa: PLC0415

    shop = load(profile)
    text = read_text(file)
    read_stock(text, shop.unit, file.name, ())
    with open_or_set_up(place_of(room, shop)) as opened:
        listed = read_stock(text, shop.unit, file.name, opened.sheets.all())
        tell_step(listed.taken(lambda kinds: opened.sheets.take_stock(kinds, note)))
    sheets = sum(kind.on_hand for kind in listed.pieces)
    listed_kinds = many(len(listed.pieces), "kind")
    typer.echo(f"{listed_kinds}, {many(sheets, 'sheet', 'on hand')}, from {file}")


def send_out(
    file: Annotated[Path, typer.Argument(metavar="CSV", help="The stock list to write.")],
    room: RoomPlace = None,
    profile: ProfileFile = None,
) -> None:
    """Write the sheets on hand as a stock list, which plan and import read."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.lists import write_stock  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    shop = load(profile)
    with open_existing(place_of(room, shop)) as opened:
        kinds = opened.sheets.all()
    write_file(file, write_stock(kinds, shop.unit))
    typer.echo(f"Written to {file}: {many(len(kinds), 'kind')}")


stock.command("list")(stoppable(_listing))
for _command in (add, count, price):
    stock.command()(stoppable(_command))
stock.command("import")(stoppable(bring_in))
stock.command("export")(stoppable(send_out))


def _key(metal: str, gauge: str, sheet: str) -> KindKey:
    """The kind of that name; a fault of metal or gauge is told as in a list."""
    from takeoff.lengths import INCH  # noqa: PLC0415 - slow to load
    from takeoff.metal_lists import MetalRow  # noqa: PLC0415 - slow to load
    from takeoff.stockroom import KindKey  # noqa: PLC0415 - takes a database library
    from takeoff.storekeeping.lists import typed  # noqa: PLC0415

    row = typed(MetalRow, INCH, material=metal, gauge=gauge)
    return KindKey(row.material, row.gauge, sheet)


def _money(text: str) -> Decimal | None:
    """An amount; None for `weight`. Raises BadParameter."""
    from decimal import Decimal, InvalidOperation  # noqa: PLC0415

    if text.strip().casefold() == "weight":
        return None
    try:
        return Decimal(text)
    except InvalidOperation:
        raise typer.BadParameter(f"{text} is no price. Give a number such as 36.40.") from None


def _price(kind: Kind) -> str:
    return "by weight" if kind.price is None else f"{kind.price:,}"


def _tell(kind: Kind) -> None:
    typer.echo(f"{kind.key}: {kind.on_hand} on hand, {kind.free} free, price {_price(kind)}")
