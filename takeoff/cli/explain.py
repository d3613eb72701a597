"""`blankwright explain`: where every number of a fitting comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import JobFile, ProfileFile, StockFile

if TYPE_CHECKING:
    from collections.abc import Sequence

    from takeoff.blanks import MadeLine


def explain(
    job: JobFile,
    mark: Annotated[str, typer.Argument(metavar="MARK", help="The fitting's mark on the list.")],
    stock: StockFile = None,
    profile: ProfileFile = None,
) -> None:
    """Tell where every number of a fitting comes from.

    The sums of its sizes, its weight, the order of its bends, the settings that were read for it,
    its hardware and its shop time.
    """
    # all slow to load, and --help needs none of them
    from rich.console import Console  # noqa: PLC0415
    from rich.padding import Padding  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    from takeoff.cli.given import read_given  # noqa: PLC0415
    from takeoff.explain.sections import explain as explained  # noqa: PLC0415
    from takeoff.nest import usable_sizes  # noqa: PLC0415

    given = read_given(job, stock, profile)
    made = _find(mark, given.lines)
    sheets = usable_sizes(given.stock, given.profile)(made.line.metal)
    console = Console()
    for section in explained(made, given.profile, given.job.unit, sheets):
        console.print(Text(section.title, style="bold"))
        for line in section.lines:
            indent = len(line) - len(line.lstrip())
            console.print(Padding(Text(line.strip()), (0, 0, 0, 2 + indent), expand=False))


def _find(mark: str, lines: Sequence[MadeLine]) -> MadeLine:
    """The row of that mark, whatever the case; a TakeoffError that names the nearest."""
    from takeoff.errors import TakeoffError, nearest, quoted  # noqa: PLC0415 - after the parsing

    for made in lines:
        if made.line.mark.casefold() == mark.strip().casefold():
            return made
    known = nearest(mark, [made.line.mark for made in lines])
    raise TakeoffError(f"{quoted(mark)} is no mark of this job. {known}")
