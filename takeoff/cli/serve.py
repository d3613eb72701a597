"""`blankwright serve`: the web page, from this computer."""

from __future__ import annotations

from ipaddress import ip_address
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .options import ProfileFile, RoomPlace, StockFile

if TYPE_CHECKING:
    from takeoff.stockroom import Room

PORT = 8765
PROFILE_ENDING = ".profile.toml"


def serve(
    host: Annotated[
        str,
        typer.Option(
            metavar="ADDRESS",
            help="Where it listens; beyond this computer it asks for a password.",
        ),
    ] = "127.0.0.1",
    port: Annotated[
        int, typer.Option(metavar="N", min=0, max=65535, help="0: any free one.")
    ] = PORT,
    name: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME", help="A name that it goes by elsewhere, as behind a proxy; repeat."
        ),
    ] = None,
    set_password: Annotated[
        bool, typer.Option("--set-password", help="Ask for a password, keep its hash, and end.")
    ] = False,
    room: RoomPlace = None,
    stock: StockFile = None,
    profile: ProfileFile = None,
) -> None:
    """Serve the web page: jobs, fittings as one measures them, plans. Ctrl-C ends it.

    Where no profile is named, the settings that are made on the page are kept beside the room.
    """
    # all slow to load, and --help needs none of them
    from takeoff import profile as profiles  # noqa: PLC0415
    from takeoff import stock as stocks  # noqa: PLC0415
    from takeoff.stockroom import places  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_or_set_up, place_of  # noqa: PLC0415
    from takeoff.web import serving  # noqa: PLC0415
    from takeoff.web.desk import Desk  # noqa: PLC0415
    from takeoff.web.runs import Runs  # noqa: PLC0415
    from takeoff.web.runs.in_room import RoomLedger  # noqa: PLC0415
    from takeoff.web.shop_book import ShopBook  # noqa: PLC0415

    data = places.default_file().parent
    if set_password:
        _set_password(data)
        return
    names = frozenset(each.casefold() for each in name or ())
    kept = _password(data, host, names)
    settings = profiles.load(profile)
    listed = stocks.load(stock, settings) if stock else None
    with open_or_set_up(place_of(room, settings)) as opened:
        book = ShopBook(profile or _beside(opened, data), opened, listed)
        typer.echo(f"Jobs and stock are kept in {opened.place}, settings in {book.file}")

        def tell(address: str) -> None:
            typer.echo(f"Open {address} in a browser. Ctrl-C ends it.")

        runs = Runs(data / "plans" / opened.identity, RoomLedger(opened))
        place = serving.Place(host, port, names)
        secret = serving.secret_in(data)
        serving.serve(Desk(opened, book, runs), place, secret, kept, tell)


def _set_password(folder: Path) -> None:
    """Ask for a password twice and keep its hash."""
    from takeoff.web import passwords  # noqa: PLC0415 - rarely needed

    words = typer.prompt("Password of the page", hide_input=True, confirmation_prompt=True)
    typer.echo(f"Its hash is kept in {passwords.keep(words, folder)}")


def _password(folder: Path, host: str, names: frozenset[str]) -> str:
    """The hash of the password, "" where there is none and none is needed. Raises BadParameter."""
    from takeoff.web import passwords  # noqa: PLC0415 - not needed for --help

    kept = passwords.kept_in(folder)
    if not kept and (names or not _is_loopback(host)):
        raise typer.BadParameter(
            f"{', '.join(sorted(names)) or host} can be reached from other computers, and there is "
            "no password yet. Set one with `blankwright serve --set-password`, or give its hash in "
            f"{passwords.VARIABLE}."
        )
    return kept


def _beside(room: Room, data: Path) -> Path:
    """The file of the profile of a room; one on a server has it in the user's own folder."""
    if "://" in room.place:
        return data / f"{room.identity}{PROFILE_ENDING}"
    return Path(room.place).with_suffix(PROFILE_ENDING)


def _is_loopback(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host.casefold() == "localhost"
