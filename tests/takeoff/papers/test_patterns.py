"""Pattern files read back: ezdxf and an XML reader see the piece at full size."""

import json
import math
import re
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import ezdxf
import pytest
from ezdxf.document import Drawing
from shapely.geometry import Polygon

from takeoff.blanks import JobBlank, MadeLine, make_line
from takeoff.cli.main import run
from takeoff.drawing.strokes import Use, strokes
from takeoff.fittings import families
from takeoff.jobs.job import Job, JobLine
from takeoff.lengths import INCH, MILLIMETRE, Unit
from takeoff.papers import PlanExists
from takeoff.papers.dxf import pattern_dxf
from takeoff.papers.pattern_svg import MARGIN, pattern_svg
from takeoff.papers.patterns import write_patterns
from takeoff.pattern.outline import net_area, outline
from tests.takeoff.fittings.making import card, example_card, shop


@cache
def blanks(kind: str) -> tuple[JobBlank, ...]:
    """The blanks of a family's first example."""
    family = families()[kind]
    bench = shop()
    line = JobLine(2, "F1", example_card(family, family.examples[0]), 1, bench.metal)
    return make_line(line, bench).blanks


every_kind = pytest.mark.parametrize("kind", list(families()))


def polygons(document: Drawing) -> list[Polygon]:
    """The closed lines of the cut layer."""
    lines = document.modelspace().query(f'LWPOLYLINE[layer=="{Use.CUT}"]')
    return [Polygon([(x, y) for x, y, *_ in e.get_points()]) for e in lines if e.closed]


def rim(document: Drawing) -> Polygon:
    """The outline of the blank."""
    return max(polygons(document), key=lambda polygon: polygon.area)


def metal(document: Drawing) -> float:
    """Area that the cut layer leaves of the blank, in the square of the file's unit."""
    circles = document.modelspace().query(f'CIRCLE[layer=="{Use.CUT}"]')
    cut = sum(math.pi * circle.dxf.radius**2 for circle in circles)
    return 2 * rim(document).area - sum(p.area for p in polygons(document)) - cut


@every_kind
@pytest.mark.parametrize(("unit", "per_inch"), [(INCH, 1.0), (MILLIMETRE, 25.4)])
def test_dxf_reads_back_at_full_size(
    kind: str, unit: Unit, per_inch: float, tmp_path: Path
) -> None:
    for blank in blanks(kind):
        path = tmp_path / "piece.dxf"
        pattern_dxf(strokes(blank.piece, blank.name, unit), unit).saveas(path)
        document = ezdxf.readfile(path)
        assert not document.audit().has_errors
        assert document.header["$INSUNITS"] == {INCH: 1, MILLIMETRE: 4}[unit]  # DXF reference
        low_x, low_y, high_x, high_y = rim(document).bounds
        assert (low_x, low_y) == pytest.approx((0, 0), abs=1e-9)
        shape = outline(blank.piece)
        assert high_x == pytest.approx(float(shape.width) * per_inch)
        assert high_y == pytest.approx(float(shape.length) * per_inch)
        wanted = float(net_area(blank.piece))
        assert metal(document) / per_inch**2 == pytest.approx(wanted, rel=1e-6)


@every_kind
def test_every_stroke_is_on_a_layer_of_its_use(kind: str) -> None:
    for blank in blanks(kind):
        document = pattern_dxf(strokes(blank.piece, blank.name, INCH), INCH)
        used = {entity.dxf.layer for entity in document.modelspace()}
        assert used <= {use.value for use in Use}
        assert {Use.CUT.value, Use.TEXT.value} <= used
        bends = [hinge for hinge in blank.piece.hinges if hinge.forming == "brake" and hinge.angle]
        bent = f'*[layer=="{Use.BEND_UP}" | layer=="{Use.BEND_DOWN}"]'
        assert len(document.modelspace().query(bent)) == len(bends)


@every_kind
def test_svg_is_full_size_and_whole(kind: str) -> None:
    for blank in blanks(kind):
        root = ET.fromstring(pattern_svg(strokes(blank.piece, blank.name, INCH), blank.name, INCH))
        shape = outline(blank.piece)
        assert root.attrib["width"] == f"{float(shape.width) + 2 * MARGIN:.4f}in"
        assert root.attrib["height"] == f"{float(shape.length) + 2 * MARGIN:.4f}in"
        first = next(root.iter("{http://www.w3.org/2000/svg}path"))
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", first.attrib["d"])]
        drawn = Polygon(list(zip(numbers[0::2], numbers[1::2], strict=True)))
        assert drawn.area == pytest.approx(float(shape.area), rel=1e-5)


def job_of(*marks: str) -> tuple[Job, list[MadeLine]]:
    cap = card("end cap", width=20, height=8)
    bench = shop()
    lines = tuple(JobLine(row, mark, cap, 1, bench.metal) for row, mark in enumerate(marks, 2))
    return Job("job", INCH, lines), [make_line(line, bench) for line in lines]


def test_names_and_marks_cannot_break_a_file(tmp_path: Path) -> None:
    job, lines = job_of("../../etc <b>&", "..//etc <b>&", "==", "a/b")
    out = tmp_path / "patterns"
    written = write_patterns(job, lines, out)
    assert sorted(out.iterdir()) == sorted(written)
    assert len(written) == 2 * len(lines) + 1
    for path in out.glob("*.svg"):
        ET.parse(path)


def test_the_index_tells_the_files_of_each_blank(tmp_path: Path) -> None:
    job, lines = job_of("C1", "C2")
    write_patterns(job, lines, tmp_path / "out")
    index = json.loads((tmp_path / "out" / "patterns.json").read_text())
    assert [entry["blank"] for entry in index["blanks"]] == ["C1 cap", "C2 cap"]
    assert index["files"] == ["C1-cap.dxf", "C1-cap.svg", "C2-cap.dxf", "C2-cap.svg"]


def test_a_folder_of_patterns_is_replaced_only_when_asked(tmp_path: Path) -> None:
    job, lines = job_of("C1")
    write_patterns(job, lines, tmp_path / "out")
    with pytest.raises(PlanExists):
        write_patterns(job, lines, tmp_path / "out")
    other, more = job_of("C2")
    write_patterns(other, more, tmp_path / "out", force=True)
    assert {path.name for path in (tmp_path / "out").iterdir()} == {
        "C2-cap.dxf",
        "C2-cap.svg",
        "patterns.json",
    }


def test_the_command_writes_the_demo_job(tmp_path: Path) -> None:
    out = tmp_path / "out"
    demo = Path(__file__).parents[3] / "data" / "bakery.csv"
    with pytest.raises(SystemExit) as end:
        run(["patterns", str(demo), "--out", str(out)])
    assert end.value.code == 0
    assert len(list(out.glob("*.dxf"))) == len(list(out.glob("*.svg"))) > 12
