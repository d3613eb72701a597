"""Boxes and return boxes against sizes worked by hand."""

from fractions import Fraction

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake, Made
from takeoff.pattern.facets import NotchKind, Piece, Role
from takeoff.pattern.fold import fold_in_place, worst_miss
from takeoff.pattern.marks import Axis, running_marks
from takeoff.pattern.mating import gap
from takeoff.pattern.outline import hole_area, net_area, outline
from takeoff.pattern.plane import area
from tests.takeoff.fittings.making import card, made, shop, sizes

HALF = Fraction(1, 2)
QUARTER = Fraction(1, 4)

# Common practice, no source: a return box 18 high, 17 1/2 wide, 21 deep with a three-sided wrap.
RETURN_BOX = {"width": "17 1/2", "depth": "21", "height": "18"}


@pytest.fixture
def return_box() -> Made:
    return made("return box", **RETURN_BOX)


def named(made: Made, name: str) -> Piece:
    return next(piece for piece in made.pieces if piece.name == name)


def test_return_box_blanks(return_box: Made) -> None:
    # wrap: 2 1/2 + 18 + 17 1/2 + 18 + 2 1/2 = 58 1/2 by 1 + 21 + 1 = 23
    # end:  1/4 + 17 1/2 + 1/4 = 18 by 1/4 + 18 + 2 1/2 = 20 3/4
    assert [piece.name for piece in return_box.pieces] == ["wrap", "end", "end"]
    assert sizes(return_box.pieces) == {
        "wrap": (58 + HALF, 23),
        "end": (18, 20 + 3 * QUARTER),
    }


def test_return_box_running_marks(return_box: Made) -> None:
    across = running_marks(named(return_box, "wrap"), Axis.WIDTH)
    assert [(mark.at, mark.label) for mark in across] == [
        (HALF, "lip"),
        (2 + HALF, "flange"),
        (20 + HALF, "bend"),
        (38, "bend"),
        (56, "flange"),
        (58, "lip"),
        (58 + HALF, "far edge"),
    ]
    along = running_marks(named(return_box, "wrap"), Axis.LENGTH)
    assert [(mark.at, mark.label) for mark in along] == [
        (1, "pocket"),
        (22, "pocket"),
        (23, "far edge"),
    ]


def test_return_box_lips_are_bent_to_45_and_trimmed_at_45(return_box: Made) -> None:
    for piece in return_box.pieces:
        lips = [hinge for hinge in piece.hinges if piece.facet(hinge.child).label == "lip"]
        assert lips
        assert all(hinge.angle == 45 for hinge in lips)
        trims = [notch for notch in piece.notches if notch.kind is NotchKind.TRIM]
        assert len(trims) == 2 * len(lips)
        assert all(abs(area(notch.points)) == HALF * HALF / 2 for notch in trims)


def test_return_box_flanges_lap_in_the_corners_and_nothing_else_touches(return_box: Made) -> None:
    """Folded, the flanges lie flat on each other and no lip runs through another piece's metal."""
    folded = [fold_in_place(piece) for piece in return_box.pieces]
    strips = [
        (at, piece.facet(name), corners)
        for at, (piece, places) in enumerate(zip(return_box.pieces, folded, strict=True))
        for name, corners in places.items()
        if piece.facet(name).role is Role.END
    ]
    flanges = [entry for entry in strips if entry[1].label == "flange"]
    assert all(np.allclose(corners[:, 2], 18) for _, _, corners in flanges)
    for at, lip, corners in strips:
        if lip.label != "lip":
            continue
        root = corners[np.isclose(corners[:, 2], 18)]
        for other_at, _, flange in flanges:
            if at == 0 and other_at != 0:
                continue  # the wrap's flanges lie below those of the ends
            if at != other_at:
                low, high = flange[:, :2].min(axis=0), flange[:, :2].max(axis=0)
                middle = root[:, :2].mean(axis=0)
                reach = np.abs(root[:, :2] - middle).max(axis=0)
                overlap = np.minimum(high, middle + reach) - np.maximum(low, middle - reach)
                assert overlap.min() <= 1e-9, "a lip would bend down through the flange below it"


def test_notches_are_all_that_is_missing_from_the_rectangle(return_box: Made) -> None:
    for piece in return_box.pieces:
        shape = outline(piece)
        cut = sum(abs(area(notch.points)) for notch in piece.notches)
        assert shape.width * shape.length - shape.area == cut


def test_a_24_inch_sheet_gives_the_wrap_with_one_cut(return_box: Made) -> None:
    # Common practice, no source: the 23 in wrap comes off a 24 in wide sheet with one cut.
    assert outline(named(return_box, "wrap")).length == 23
    only = shop(sheets=((24, 96),))
    assert only.refusal(named(return_box, "wrap"), turn=True) is None


lengths = st.integers(8 * 16, 40 * 16).map(lambda n: Fraction(n, 16))
open_faces = st.sampled_from(["top", "bottom", "front", "top, bottom", "left, right", "none"])


@settings(max_examples=40, deadline=None)
@given(
    width=lengths,
    depth=lengths,
    height=lengths,
    faces=open_faces,
    ends=st.sampled_from(["front and back", "left and right", "top and bottom"]),
    edges=st.sampled_from(["raw", "hem", "flange out", "flange in", "bearing flange"]),
    arrangement=st.sampled_from(["wrap and ends", "two wraps", "separate sides"]),
)
def test_a_box_folds_to_the_asked_size(
    width: Fraction,
    depth: Fraction,
    height: Fraction,
    faces: str,
    ends: str,
    edges: str,
    arrangement: str,
) -> None:
    """The folded faces are the box: trimesh measures its surface and, closed, its volume."""
    box = card(
        "box",
        width=width,
        depth=depth,
        height=height,
        open=faces,
        ends=ends,
        edges=edges,
        arrangement=arrangement,
    )
    result = box.make(shop(sheets=((200, 400),), toml="[brake]\nlength = 400"))
    assert all(worst_miss(piece) < 1e-9 for piece in result.pieces)
    assert all(gap(seam, result.pieces) < 1e-9 for seam in result.seams)
    mesh = folded_mesh(result)
    w, d, h = float(width), float(depth), float(height)
    each = {
        "top": w * d,
        "bottom": w * d,
        "front": w * h,
        "back": w * h,
        "left": d * h,
        "right": d * h,
    }
    missing = 0 if faces == "none" else sum(each[face] for face in faces.split(", "))
    assert mesh.area == pytest.approx(sum(each.values()) - missing)
    if faces == "none":
        mesh.merge_vertices()
        assert mesh.is_watertight
        assert abs(mesh.volume) == pytest.approx(w * d * h)


def folded_mesh(result: Made) -> trimesh.Trimesh:
    """The faces of all pieces, folded and put together."""
    vertices: list[np.ndarray] = []
    triangles: list[tuple[int, int, int]] = []
    for piece in result.pieces:
        for name, corners in fold_in_place(piece).items():
            if piece.facet(name).role is Role.FACE:
                base = sum(len(v) for v in vertices)
                vertices.append(corners)
                triangles += [(base, base + i, base + i + 1) for i in range(1, len(corners) - 1)]
    return trimesh.Trimesh(np.vstack(vertices), triangles, process=False)


def test_with_a_bend_allowance_the_box_still_folds_to_size() -> None:
    thick = shop('[bend]\nrule = "allowance"\nradius = "1/8"', gauge=16)
    result = card("return box", **RETURN_BOX).make(thick)
    # 16 ga galvanized .0635, R 1/8: BA = (0.01743 x 0.125 + 0.0078 x 0.0635) x 90 = 0.24066
    # BD at 90 = 2 (0.125 + 0.0635) - 0.24066 = 0.13634; at 45 tan(22.5) = 0.414214:
    # BD at 45 = 2 x 0.1885 x 0.414214 - 0.12033 = 0.03583; wrap: 58.5 - 4 x 0.13634 - 2 x 0.03583
    assert float(outline(named(result, "wrap")).width) == pytest.approx(57.8830, abs=2e-4)
    assert all(worst_miss(piece) < 1e-9 for piece in result.pieces)


def test_openings_are_cut_where_they_are_measured() -> None:
    result = made(
        "box",
        width=20,
        depth=12,
        height=16,
        open="none",
        openings="front 10 x 8 at 2, 3; left round 6",
        ends="front and back",
    )
    front = next(p for p in result.pieces if p.finished.keys() == {"front"})
    shape = outline(front)
    # single edges of 1/4 all round; seen from inside the face is mirrored: 20 - 2 - 10 = 8
    xs = sorted({x for x, _ in front.holes[0].points})
    ys = sorted({y for _, y in front.holes[0].points})
    assert shape.width == 20 + HALF
    assert {xs[0], 20 + HALF - xs[1]} == {8 + QUARTER, 2 + QUARTER}
    assert {ys[0], 16 + HALF - ys[1]} == {3 + QUARTER, 5 + QUARTER}
    wrap = named(result, "wrap")
    assert hole_area(wrap.holes[0]) == pytest.approx(9 * np.pi)
    assert float(net_area(wrap)) == pytest.approx(float(outline(wrap).area) - 9 * np.pi)


@pytest.mark.parametrize(
    ("cells", "column", "words"),
    [
        ({"openings": "front 20 x 8"}, "openings", "outside its face"),
        ({"openings": "front 4 x 4 at 15, 1"}, "openings", "outside its face"),
        ({"openings": "top 4 x 4"}, "openings", "open face"),
        ({"width": "4"}, "edges", "wider than the opening"),
        ({"edges": "bearing flnge"}, "edges", "not in the shop profile"),
        ({"edges": "front: hem"}, "edges", "closed face"),
        ({"seam": "pittsburg"}, "seam", "not in the shop profile"),
        ({"height": "130", "depth": "130"}, "arrangement", "larger than every sheet"),
    ],
)
def test_what_cannot_be_made_says_why(cells: dict[str, str], column: str, words: str) -> None:
    with pytest.raises(CannotMake, match=words) as refusal:
        card("return box", **{**RETURN_BOX, **cells}).make(shop())
    assert refusal.value.column == column
    assert refusal.value.allowed


@pytest.mark.parametrize(
    "cells",
    [
        {"width": "0"},
        {"depth": "-3"},
        {"height": "tall"},
        {"open": "roof"},
        {"openings": "front ten by 8"},
        {"arrangement": "origami"},
        {"colour": "red"},
    ],
)
def test_cells_that_say_nothing_are_refused(cells: dict[str, str]) -> None:
    with pytest.raises(ValidationError):
        card("return box", **{**RETURN_BOX, **cells})


def test_millimetres_are_exact() -> None:
    # 254 mm are 10 in: 10 + 2 x 1/4
    result = made("box", width="254mm", depth="508mm", height="254mm", open="none")
    assert sizes(result.pieces)["end"] == (10 + HALF, 10 + HALF)
