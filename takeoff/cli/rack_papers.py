"""`blankwright rack labels`, and the labels that other commands write."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from takeoff.drawing.paper import Paper
from takeoff.plural import many

from .options import ProfileFile, RoomPlace

if TYPE_CHECKING:
    from takeoff.lengths import Unit
    from takeoff.papers.labels_pdf import LabelSize
    from takeoff.stockroom import Offcut


USUAL_SIZE = "4 x 2"


def labels(
    file: Annotated[Path, typer.Argument(metavar="PDF", help="The file to write.")],
    pieces: Annotated[
        list[str] | None,
        typer.Argument(metavar="[LABEL]...", help="Without any: of all that stands on the rack."),
    ] = None,
    size: Annotated[
        str, typer.Option(metavar="W x H", help="Of a label, in inches or as 100mm x 50mm.")
    ] = USUAL_SIZE,
    paper: Annotated[Paper, typer.Option(help="What they are printed on.")] = Paper.LETTER,
    one_a_page: Annotated[
        bool, typer.Option("--one-a-page", help="Each on a page of its size: a label printer.")
    ] = False,
    room: RoomPlace = None,
    profile: ProfileFile = None,
) -> None:
    """Write labels to tape on the offcuts: number, size, metal, and a QR code that tells the same.

    The code holds plain text; any phone shows it.
    """
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    of = _size(size)
    shop = load(profile)
    with open_existing(place_of(room, shop)) as opened:
        offcuts = (
            [opened.rack.get(label) for label in pieces] if pieces else list(opened.rack.all())
        )
    write(offcuts, file, shop.unit, of, None if one_a_page else paper)


def write(
    offcuts: Sequence[Offcut],
    file: Path,
    unit: Unit,
    size: LabelSize | None = None,
    paper: Paper | None = Paper.LETTER,
) -> None:
    """Write labels and say so; `paper` None: one a page."""
    from takeoff.drawing.rack_label import rack_label  # noqa: PLC0415 - slow to load
    from takeoff.papers.folder import whole_file  # noqa: PLC0415 - slow to load
    from takeoff.papers.labels_pdf import write_labels  # noqa: PLC0415
    from takeoff.storekeeping.taking import on_rack  # noqa: PLC0415

    if not offcuts:
        typer.echo("There is no offcut to label.")
        return
    texts = [rack_label(on_rack(offcut), unit) for offcut in offcuts]
    with whole_file(file) as aside:
        pages = write_labels(texts, aside, size or _size(USUAL_SIZE), paper)
    typer.echo(f"Written to {file}: {many(len(texts), 'label')} on {many(pages, 'page')}")


def _size(text: str) -> LabelSize:
    """Width and height, as a tape reads them. Raises BadParameter."""
    from takeoff.lengths import parse  # noqa: PLC0415 - slow to load
    from takeoff.papers.labels_pdf import POINTS_IN_AN_INCH, LabelSize  # noqa: PLC0415

    sides = text.casefold().split("x")
    if len(sides) != 2:
        raise typer.BadParameter(f"{text} is no size. Give width x height, such as {USUAL_SIZE}.")
    return LabelSize(*(float(parse(side.strip())) * POINTS_IN_AN_INCH for side in sides))
