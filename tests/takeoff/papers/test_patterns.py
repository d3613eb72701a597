"""Pattern files read back: ezdxf and an XML reader see the piece at full size."""

import json
import math
import re
from collections.abc import Iterator
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
from takeoff.pattern.outline import net_area
from tests.takeoff.fittings.making import card, example_card, shop


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
