"""`blankwright serve`: the web page, from this computer."""

from __future__ import annotations

from ipaddress import ip_address
from typing import Annotated

import typer

from .options import ProfileFile, RoomPlace, StockFile

PORT = 8765


def check_host(value: str) -> str:
    """The address, or why it will not do."""
    if value != "localhost" and not _is_loopback(value):
        raise typer.BadParameter(f"{value} is not an address of this computer alone: 127.0.0.1.")
    return value


def serve(
    host: Annotated[
        str,
        typer.Option(
            metavar="ADDRESS", callback=check_host, help="Who can reach it: this computer."
        ),
    ] = "127.0.0.1",
    port: Annotated[
        int, typer.Option(metavar="N", min=0, max=65535, help="0: any free one.")
    ] = PORT,
    room: RoomPlace = None,
    stock: StockFile = None,
    profile: ProfileFile = None,
) -> None:
    """Serve the web page: jobs, fittings as one measures them, plans. Ctrl-C ends it."""
    # all slow to load, and --help needs none of them
    from takeoff import profile as profiles  # noqa: PLC0415
    from takeoff import stock as stocks  # noqa: PLC0415
    from takeoff.stockroom import places  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_or_set_up, place_of  # noqa: PLC0415
    from takeoff.web.desk import Desk, ShopNow  # noqa: PLC0415
    from takeoff.web.runs import Runs  # noqa: PLC0415
    from takeoff.web.runs.in_room import RoomLedger  # noqa: PLC0415
    from takeoff.web.serving import secret_in  # noqa: PLC0415
    from takeoff.web.serving import serve as serve_desk  # noqa: PLC0415

    settings = profiles.load(profile)
    shop = ShopNow(settings, stocks.load(stock, settings))
    with open_or_set_up(place_of(room, settings)) as opened:
        typer.echo(f"Jobs and stock are kept in {opened.place}")

        def tell(address: str) -> None:
            typer.echo(f"Open {address} in a browser. Ctrl-C ends it.")

        data = places.default_file().parent
        runs = Runs(data / "plans" / opened.identity, RoomLedger(opened))
        serve_desk(Desk(opened, lambda: shop, runs), host, port, secret_in(data), tell)


def _is_loopback(value: str) -> bool:
    try:
        return ip_address(value).is_loopback
    except ValueError:
        return False
