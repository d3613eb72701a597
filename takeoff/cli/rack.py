"""`blankwright rack`: the offcuts on the rack."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from takeoff.plural import many

from .options import ProfileFile, Remark, RoomPlace, printing
from .outcome import stoppable
from .rack_papers import labels
from .shown import cut_short, show_table, tell_step, write_file

if TYPE_CHECKING:
    from takeoff.lengths import Unit
    from takeoff.stockroom import Movement, Offcut

Labels = Annotated[
    list[str], typer.Argument(metavar="LABEL...", help="Of the offcuts, such as R-000123.")
]

rack = typer.Typer(
    help="The offcuts on the rack: list, add, move, scrap, labels.",
    no_args_is_help=True,
    rich_markup_mode=None,
)


def _listing(
    metal: Annotated[str, typer.Option(metavar="METAL", help="Only of this metal.")] = "",
    gauge: Annotated[int | None, typer.Option(metavar="N", help="Only of this gauge.")] = None,
    pictures: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Draw them to one scale: a .pdf, .svg or .html file."),
    ] = None,
    gone: Annotated[bool, typer.Option("--gone", help="List what has left the rack.")] = False,
    room: RoomPlace = None,
    profile: ProfileFile = None,
) -> None:
    """List the offcuts on the rack."""
    from takeoff.papers.folder import whole_file  # noqa: PLC0415 - slow to load
    from takeoff.papers.rack_pictures import check_kind, write_pictures  # noqa: PLC0415
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.stockroom import OffcutState  # noqa: PLC0415 - takes a database library
    from takeoff.storekeeping.taking import on_rack  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    if pictures is not None:
        check_kind(pictures)
    shop = load(profile)
    left = (OffcutState.USED, OffcutState.SCRAPPED, OffcutState.TAKEN_BACK)
    standing = (OffcutState.ON_RACK, OffcutState.RESERVED)
    with open_existing(place_of(room, shop)) as opened:
        offcuts = _chosen(opened.rack.all(left if gone else standing), metal, gauge)
        place = opened.place
    _show(offcuts, shop.unit)
    where = "gone from" if gone else "on the rack of"
    typer.echo(f"{many(len(offcuts), 'offcut')} {where} {place}")
    if pictures is not None:
        with whole_file(pictures) as aside:
            write_pictures([on_rack(offcut) for offcut in offcuts], aside, shop.unit)
        typer.echo(f"Written to {pictures}")


def add(
    metal: Annotated[str, typer.Argument(metavar="METAL", help="Such as galvanized.")],
    gauge: Annotated[str, typer.Argument(metavar="GAUGE", help="Its number.")],
    width: Annotated[str, typer.Argument(metavar="WIDTH", help="As a tape reads it.")],
    length: Annotated[str, typer.Argument(metavar="LENGTH", help="As a tape reads it.")],
    place: Annotated[
        str, typer.Option(metavar="TEXT", callback=printing, help="Where it stands.")
    ] = "",
    qty: Annotated[str, typer.Option(metavar="N", help="So many of the same size.")] = "1",
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Annotated[
        str, typer.Option(metavar="TEXT", callback=printing, help="What is written on it.")
    ] = "",
) -> None:
    """Put an offcut on the rack; it gets a label of its own."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.lists import RackRow, typed  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_or_set_up, place_of  # noqa: PLC0415

    shop = load(profile)
    size = {"width": width, "length": length}
    row = typed(
        RackRow, shop.unit, material=metal, gauge=gauge, **size, place=place, note=note, qty=qty
    )
    with open_or_set_up(place_of(room, shop)) as opened:
        tell_step(opened.rack.add(row.offcuts()))


def move(
    label: Annotated[str, typer.Argument(metavar="LABEL", help="Such as R-000123.")],
    place: Annotated[
        str, typer.Argument(metavar="PLACE", callback=printing, help="Where it stands now.")
    ],
    room: RoomPlace = None,
    profile: ProfileFile = None,
) -> None:
    """Write down that an offcut stands elsewhere."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    with open_existing(place_of(room, load(profile))) as opened:
        tell_step(opened.rack.change(label, place))


def scrap(
    pieces: Labels, room: RoomPlace = None, profile: ProfileFile = None, note: Remark = ""
) -> None:
    """Throw offcuts away, all or none; one that is reserved for a plan stays."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    with open_existing(place_of(room, load(profile))) as opened:
        tell_step(opened.rack.scrap(pieces, note))


def history(
    label: Annotated[str, typer.Argument(metavar="LABEL", help="Such as R-000123.")],
    room: RoomPlace = None,
    profile: ProfileFile = None,
) -> None:
    """Tell all that happened to an offcut, the first first."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    shop = load(profile)
    with open_existing(place_of(room, shop)) as opened:
        offcut, movements = opened.rack.get(label), opened.rack.history(label)
    _show([offcut], shop.unit)
    titles = ("Step", "When", "By", "What", "Plan", "Note")
    show_table(titles, map(_told, movements), ("Step",))


def bring_in(
    file: Annotated[Path, typer.Argument(metavar="CSV", help="The rack list.")],
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Remark = "",
) -> None:
    """Put the offcuts of a list on the rack, all or none.

    Columns material, gauge, width and length; place, note, qty and label if you like. Without a
    label an offcut gets the next one.
    """
    from takeoff.metal_lists import read_text  # noqa: PLC0415 - slow to load
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.lists import RACK_LIST, read_rack  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_or_set_up, place_of  # noqa: PLC0415

    shop = load(profile)
    listed = read_rack(read_text(file, RACK_LIST), shop.unit, file.name)
    with open_or_set_up(place_of(room, shop)) as opened:
        tell_step(listed.taken(lambda pieces: opened.rack.import_labelled(pieces, note)))
    typer.echo(f"{many(len(listed.pieces), 'offcut')} from {file}")


def send_out(
    file: Annotated[Path, typer.Argument(metavar="CSV", help="The rack list to write.")],
    room: RoomPlace = None,
    profile: ProfileFile = None,
) -> None:
    """Write what stands on the rack as a list, which import reads."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.lists import write_rack  # noqa: PLC0415
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    shop = load(profile)
    with open_existing(place_of(room, shop)) as opened:
        offcuts = opened.rack.all()
    write_file(file, write_rack(offcuts, shop.unit))
    typer.echo(f"Written to {file}: {many(len(offcuts), 'offcut')}")


rack.command("list")(stoppable(_listing))
for _command in (add, move, scrap, labels, history):
    rack.command()(stoppable(_command))
rack.command("import")(stoppable(bring_in))
rack.command("export")(stoppable(send_out))


def _chosen(offcuts: Iterable[Offcut], metal: str, gauge: int | None) -> list[Offcut]:
    from takeoff.materials import material  # noqa: PLC0415 - slow to load

    wanted = material(metal) if metal else ""
    return [
        offcut
        for offcut in offcuts
        if wanted in ("", offcut.material) and gauge in (None, offcut.gauge)
    ]


def _show(offcuts: Sequence[Offcut], unit: Unit) -> None:
    from takeoff.sizes import sides  # noqa: PLC0415 - slow to load

    titles = ("Label", "Metal", f"Size ({unit.name})", "Place", "State", "From", "Note")
    rows = [
        (
            offcut.label,
            f"{offcut.material} {offcut.gauge} ga",
            sides(offcut.width, offcut.length, unit),
            offcut.place,
            f"{offcut.state}, {cut_short(offcut.holder)}" if offcut.holder else str(offcut.state),
            f"{cut_short(offcut.plan)}, {offcut.sheet}" if offcut.plan else "",
            offcut.note,
        )
        for offcut in offcuts
    ]
    show_table(titles, rows, titles[2:3])


def _told(movement: Movement) -> tuple[str, ...]:
    step = movement.step
    undone = " (undone)" if step.undone else ""
    when = step.at.astimezone().strftime("%Y-%m-%d %H:%M")
    return str(step.number), when, step.who, f"{step.action.told}{undone}", step.plan, step.note
