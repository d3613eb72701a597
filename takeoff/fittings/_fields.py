"""Fields that several families have alike: how each is read, its limits and what it means.

A default stands on the card itself: `seam: CornerSeam = "pittsburgh"`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from takeoff.lengths import Length

from .base import OpenEnd, Size, read_choice

Name = Annotated[str, BeforeValidator(read_choice)]
"""A seam or an end of the shop profile, by name."""
Wish = Annotated[Literal["auto", "yes", "no"], BeforeValidator(read_choice)]
"""Whether something is done; `auto` leaves it to a rule."""

FirstEnd = Annotated[Name, Field(description="What is done to the first end.")]
LastEnd = Annotated[Name, Field(description="What is done to the last end.")]
FirstOpening = Annotated[Name, Field(description="What is done to the first opening.")]
SecondOpening = Annotated[Name, Field(description="What is done to the second opening.")]

DuctSeam = Annotated[Name, Field(description="The seam along the duct.")]
CornerSeam = Annotated[Name, Field(description="The seam along the corners.")]
CheekSeam = Annotated[Name, Field(description="The seam along the cheeks.")]

FirstWidth = Annotated[Size, Field(description="Width of the first opening.")]
FirstHeight = Annotated[Size, Field(description="Height of the first opening.")]
SecondWidth = Annotated[
    Size | None, Field(description="Width of the second opening; as the first if blank.")
]
SecondHeight = Annotated[
    Size | None, Field(description="Height of the second opening; as the first if blank.")
]
CommonHeight = Annotated[Size, Field(description="Height of all three openings.")]
InsideDiameter = Annotated[Size, Field(description="Inside diameter.")]
LengthOverAll = Annotated[
    Size, Field(description="Length over all along the run, collars included.")
]

FullJoint = Annotated[
    Size | None,
    Field(
        description="Finished length of a full joint; blank for what the profile's joint leaves "
        "when its ends are taken off."
    ),
]
DuctArrangement = Annotated[
    Literal["auto", "one piece", "two l", "u and side", "four sides"],
    BeforeValidator(read_choice),
    Field(
        description="How the four sides are shared out over pieces; auto takes the fewest pieces "
        "that the sheets and the brake can take."
    ),
]
TubeArrangement = Annotated[
    Literal["auto", "two l", "u and side", "four sides"],
    BeforeValidator(read_choice),
    Field(
        description="How the four sides are shared out over pieces; auto takes the fewest pieces "
        "that the shape, the sheets and the brake allow."
    ),
]
PiecesRound = Annotated[
    int | None, Field(ge=1, le=4, description="How many pieces go round; blank for the fewest.")
]

FilterThickness = Annotated[
    Size, Field(description="Nominal thickness of the filter: the width of the slot.")
]
FilterSlot = Annotated[
    Literal["left", "right", "top", "bottom"],
    BeforeValidator(read_choice),
    Field(description="The side that the filter slides in from."),
]


def two_ends(
    ends: tuple[str, str],
    width: Length | None = None,
    height: Length | None = None,
    diameter: Length | None = None,
) -> tuple[OpenEnd, OpenEnd]:
    """The open ends of a run that is as wide at its end as at its beginning (see `OpenEnd`)."""
    first, last = (
        OpenEnd(f"end {place}", end, width, height, diameter) for place, end in enumerate(ends, 1)
    )
    return first, last
