"""packet.pdf: every card of the job, for the shear, the brake and the bench."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from takeoff.drawing.page import numbered_page
from takeoff.drawing.primitives import Drawing
from takeoff.drawing.sheet_page import sheet_pages

from .cards.assembly_card import assembly_card
from .cards.cover import cover
from .cards.label_card import label_card
from .cards.piece_card import piece_card
from .contents import Contents
from .pdf import write_pdf

NAME = "packet.pdf"


def write_packet(contents: Contents, path: Path) -> None:
    """Write the packet of a plan."""
    write_pdf(packet_pages(contents), path, contents.plan.job.name or "Job")


def packet_pages(contents: Contents) -> list[Drawing]:
    """Cover, sheets, then each fitting with its pieces, and the labels for offcuts."""
    pages: list[Drawing] = []
    where: dict[str, int] = {}
    for name, mine in _parts(contents):
        where.setdefault(name, len(pages) + 1)
        pages.extend(mine)
    everything = [*cover(contents, where), *pages]
    return [
        numbered_page(page, number, len(everything)) for number, page in enumerate(everything, 1)
    ]


def _parts(contents: Contents) -> Iterator[tuple[str, list[Drawing]]]:
    """The parts of the packet, by what the cover calls them."""
    plan = contents.plan
    unit, job = plan.job.unit, plan.job.name
    for layout in contents.layouts:
        yield "Sheets to cut", list(sheet_pages(layout, unit, job))
    for made in plan.lines:
        name = f"{made.line.mark}, {made.line.fitting.kind}"
        yield name, list(assembly_card(made, contents.bends, plan.profile, unit, job))
        for blank in made.blanks:
            yield name, list(piece_card(blank, contents.bends[blank.name], unit, job))
    labels = list(label_card(contents.layouts, unit, job))
    if labels:
        yield "Labels for offcuts", labels
