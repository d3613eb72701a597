"""Pattern files in SVG, one piece a file, full size, a class for each use of a stroke."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from xml.sax.saxutils import escape, quoteattr

from takeoff.drawing.primitives import Spot
from takeoff.drawing.strokes import Circle, Path, Stroke, Use, Words
from takeoff.lengths import INCH, Unit

MARGIN = 0.25
"""Inches of paper round the blank."""

STYLE = """
path, circle { fill: none; stroke: #000; stroke-width: 0.02 }
.bend-up { stroke-dasharray: 0.35 0.12 }
.bend-down { stroke-dasharray: 0.35 0.1 0.05 0.1 0.05 0.1 }
.scribe { stroke: #555; stroke-width: 0.012; stroke-dasharray: 0.05 0.08 }
.centre-mark { stroke-width: 0.012 }
text { font-family: sans-serif; text-anchor: middle; dominant-baseline: central }
"""


def pattern_svg(strokes: Sequence[Stroke], title: str, unit: Unit) -> str:
    """A picture at full size: its user units are inches, its width and height the real ones.

    Args:
        strokes: of one piece (inches), see `takeoff.drawing.strokes`; the cut outline first.
        title: the name of the piece.
        unit: the unit that the width and height of the picture are stated in.
    """
    spots = [spot for stroke in strokes if isinstance(stroke, Path) for spot in stroke.spots]
    width, height = max(x for x, _ in spots), max(y for _, y in spots)
    paper = width + 2 * MARGIN, height + 2 * MARGIN
    name, scale = ("in", 1.0) if unit == INCH else ("mm", float(1 / unit.inches))
    body = "\n".join(_marks(strokes, height))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" '
        f'width="{paper[0] * scale:.4f}{name}" height="{paper[1] * scale:.4f}{name}" '
        f'viewBox="{-MARGIN} {-MARGIN} {paper[0]:.6f} {paper[1]:.6f}">\n'
        f"<title>{escape(title)}</title>\n<style>{STYLE}</style>\n{body}\n</svg>\n"
    )


def _marks(strokes: Sequence[Stroke], height: float) -> Iterator[str]:
    """One element a stroke; y runs down in SVG and up on the sheet."""

    def at(spot: Spot) -> Spot:
        return spot[0], height - spot[1]

    for stroke in strokes:
        if isinstance(stroke, Path):
            yield f"<path class={_class(stroke.use)} d={quoteattr(_way(stroke, at))}/>"
        elif isinstance(stroke, Circle):
            x, y = at(stroke.centre)
            place = f'cx="{x:.6f}" cy="{y:.6f}" r="{stroke.radius:.6f}"'
            yield f"<circle class={_class(stroke.use)} {place}/>"
        else:
            yield _text(stroke, *at(stroke.at))


def _way(path: Path, at: Callable[[Spot], Spot]) -> str:
    steps = " L ".join("{:.6f} {:.6f}".format(*at(spot)) for spot in path.spots)
    return f"M {steps}{' Z' if path.closed else ''}"


def _text(words: Words, x: float, y: float) -> str:
    turn = f' transform="rotate({-words.turn:.2f} {x:.4f} {y:.4f})"' if words.turn else ""
    return (
        f'<text class={_class(Use.TEXT)} x="{x:.4f}" y="{y:.4f}" '
        f'font-size="{words.height:.4f}"{turn}>{escape(words.text)}</text>'
    )


def _class(use: Use) -> str:
    return quoteattr(use.value.replace(" ", "-"))
