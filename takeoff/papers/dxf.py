"""Pattern files in DXF, one piece a file, full size, a layer for each use of a stroke."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from takeoff.drawing.primitives import Spot
from takeoff.drawing.strokes import Circle, Path, Stroke, Use, Words
from takeoff.lengths import INCH, Unit

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

INCHES, MILLIMETRES = 1, 4
"""DXF codes for the unit of the drawing (header variable $INSUNITS, DXF reference)."""


@dataclass(frozen=True)
class _Look:
    """Colour index and line type of a layer."""

    colour: int
    line: str


LOOKS = {
    Use.CUT: _Look(7, "CONTINUOUS"),
    Use.BEND_UP: _Look(4, "DASHED"),
    Use.BEND_DOWN: _Look(6, "DIVIDE"),
    Use.SCRIBE: _Look(8, "DOT"),
    Use.CENTRE: _Look(3, "CENTER"),
    Use.TEXT: _Look(7, "CONTINUOUS"),
}


def pattern_dxf(strokes: Sequence[Stroke], unit: Unit) -> Drawing:
    """A drawing at full size in the unit, the datum corner at the origin.

    Args:
        strokes: of one piece (inches), see `takeoff.drawing.strokes`.
        unit: the unit of the file: inches, or millimetres.
    """
    from ezdxf.filemanagement import new  # noqa: PLC0415 - heavy, and only pattern files need it

    document = new("R2010", setup=["linetypes"])
    document.header["$INSUNITS"] = INCHES if unit == INCH else MILLIMETRES
    document.header["$MEASUREMENT"] = int(unit != INCH)
    for use, look in LOOKS.items():
        document.layers.add(use.value, color=look.colour, linetype=look.line)
    scale = float(1 / unit.inches)
    for stroke in strokes:
        _draw(document.modelspace(), stroke, scale)
    return document


def _draw(space: Modelspace, stroke: Stroke, scale: float) -> None:
    if isinstance(stroke, Path):
        spots = [_scaled(spot, scale) for spot in stroke.spots]
        space.add_lwpolyline(spots, close=stroke.closed, dxfattribs={"layer": stroke.use.value})
    elif isinstance(stroke, Circle):
        centre, radius = _scaled(stroke.centre, scale), stroke.radius * scale
        space.add_circle(centre, radius, dxfattribs={"layer": stroke.use.value})
    else:
        _write(space, stroke, scale)


def _write(space: Modelspace, words: Words, scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415

    text = space.add_text(
        words.text,
        height=words.height * scale,
        rotation=words.turn,
        dxfattribs={"layer": Use.TEXT.value},
    )
    text.set_placement(_scaled(words.at, scale), align=TextEntityAlignment.MIDDLE_CENTER)


def _scaled(spot: Spot, scale: float) -> Spot:
    return spot[0] * scale, spot[1] * scale
