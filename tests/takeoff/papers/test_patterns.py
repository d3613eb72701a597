"""Pattern files read back: ezdxf and an XML reader see the piece at full size."""

import math
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import ezdxf
import pytest
from ezdxf.document import Drawing
from shapely.geometry import Polygon

from takeoff.blanks import JobBlank, make_line
from takeoff.drawing.strokes import Use, strokes
from takeoff.fittings import families
from takeoff.jobs.job import JobLine
from takeoff.lengths import INCH, MILLIMETRE, Unit
from takeoff.papers.dxf import pattern_dxf
from takeoff.papers.pattern_svg import MARGIN, pattern_svg
from takeoff.papers.patterns import file_names, write_patterns
from takeoff.pattern.outline import net_area
from tests.takeoff.fittings.making import example_card, shop


def blanks() -> Iterator[JobBlank]:
    for number, family in enumerate(families().values(), 1):
        for cells in family.examples:
            bench = shop()
            card = example_card(family, cells)
            yield from make_line(JobLine(number, f"F{number}", card, 1, bench.metal), bench).blanks


BLANKS = list(blanks())
every_blank = pytest.mark.parametrize("blank", BLANKS, ids=[blank.name for blank in BLANKS])


def metal(document: Drawing, per_inch: float) -> float:
    """Area of metal that the cut layer leaves, square inches."""
    largest, holes = 0.0, 0.0
    for entity in document.modelspace().query(f'*[layer=="{Use.CUT}"]'):
        if entity.dxftype() == "CIRCLE":
            holes += math.pi * entity.dxf.radius**2
        elif entity.closed:
            area = Polygon([(x, y) for x, y, *_ in entity.get_points()]).area
            holes += min(area, largest)
            largest = max(area, largest)
    return (largest - holes) / per_inch**2


@every_blank
@pytest.mark.parametrize(("unit", "per_inch"), [(INCH, 1.0), (MILLIMETRE, 25.4)])
def test_dxf_reads_back_at_full_size(
    blank: JobBlank, unit: Unit, per_inch: float, tmp_path: Path
) -> None:
    path = tmp_path / "piece.dxf"
    pattern_dxf(strokes(blank.piece, blank.name, unit), unit).saveas(path)
    document = ezdxf.readfile(path)
    assert not document.audit().has_errors
    assert document.header["$INSUNITS"] == {INCH: 1, MILLIMETRE: 4}[unit]  # DXF reference
    outer = max(
        (e for e in document.modelspace().query("LWPOLYLINE") if e.dxf.layer == Use.CUT),
        key=lambda e: (
            len(e) and Polygon([(x, y) for x, y, *_ in e.get_points()]).area if e.closed else 0
        ),
    )
    xs, ys = zip(*((x, y) for x, y, *_ in outer.get_points()), strict=True)
    assert (min(xs), min(ys)) == pytest.approx((0, 0), abs=1e-9)
    assert max(xs) == pytest.approx(float(blank.width) * per_inch)
    assert max(ys) == pytest.approx(float(blank.length) * per_inch)
    assert metal(document, per_inch) == pytest.approx(float(net_area(blank.piece)), rel=1e-6)


@every_blank
def test_every_stroke_is_on_a_layer_of_its_use(blank: JobBlank) -> None:
    document = pattern_dxf(strokes(blank.piece, blank.name, INCH), INCH)
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert used <= {use.value for use in Use}
    assert {Use.CUT.value, Use.TEXT.value} <= used
    bends = [hinge for hinge in blank.piece.hinges if hinge.forming == "brake" and hinge.angle]
    lines = document.modelspace().query(f'*[layer=="{Use.BEND_UP}" | layer=="{Use.BEND_DOWN}"]')
    assert len(lines) == len(bends)


@every_blank
def test_svg_is_full_size_and_whole(blank: JobBlank) -> None:
    root = ET.fromstring(pattern_svg(strokes(blank.piece, blank.name, INCH), blank.name, INCH))
    assert root.attrib["width"] == f"{float(blank.width) + 2 * MARGIN:.4f}in"
    assert root.attrib["height"] == f"{float(blank.length) + 2 * MARGIN:.4f}in"
    space = "{http://www.w3.org/2000/svg}"
    outer = next(root.iter(f"{space}path"))
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", outer.attrib["d"])]
    shape = Polygon(list(zip(numbers[0::2], numbers[1::2], strict=True)))
    cut = sum(
        Polygon([(float(x), float(y)) for x, y in hole.points]).area for hole in blank.piece.holes
    )
    round_holes = any(hole.diameter for hole in blank.piece.holes)
    assert shape.area - cut == pytest.approx(
        float(net_area(blank.piece)), rel=2e-3 if round_holes else 1e-6
    )


def test_names_and_marks_cannot_break_a_file(tmp_path: Path) -> None:
    first = BLANKS[0]
    odd = [
        JobBlank(
            name, name, first.fitting, first.piece, 1, first.metal, True, first.width, first.length
        )
        for name in ("../../etc <b>&", "..//etc <b>&", "==", "a/b")
    ]
    assert len(set(file_names(odd))) == len(odd)
    written = write_patterns(odd, INCH, tmp_path)
    assert sorted(tmp_path.iterdir()) == sorted(written)
    for path in tmp_path.glob("*.svg"):
        ET.parse(path)
