"""Surfaces laid out in the plane, held against closed forms and against the box builder."""

import math
from fractions import Fraction
from itertools import pairwise

import pytest

from takeoff.fittings._cuboid import FACES, Cuboid
from takeoff.pattern.allowances import Strip
from takeoff.pattern.develop import Layout, SpaceHole, develop
from takeoff.pattern.edging import RAW, Edging
from takeoff.pattern.facets import Forming, Role
from takeoff.pattern.fold import worst_miss
from takeoff.pattern.outline import net_area, outline
from takeoff.pattern.patches import Patch, bend_angle


def wrap_of(cuboid: Cuboid, *faces: str, **options: object) -> Layout:
    patches = tuple(Patch(face, cuboid.corners(face)) for face in faces)
    return Layout("wrap", patches, {b: a for a, b in pairwise(faces)}, right=1, **options)


def test_three_sides_of_a_box_are_as_long_as_the_sides_together() -> None:
    # 18 + 17 1/2 + 18 = 53 1/2 by the depth 21
    piece = develop(wrap_of(Cuboid(Fraction(35, 2), 21, 18), "left", "bottom", "right"))
    shape = outline(piece)
    assert sorted((shape.width, shape.length)) == pytest.approx([21, 53.5])
    assert worst_miss(piece) < 1e-9
    assert [hinge.angle for hinge in piece.hinges] == pytest.approx([90, 90])


def test_bends_with_a_deduction_still_fold_to_the_asked_size() -> None:
    # two bends take 2 x 0.1 off the flat: 53.5 - 0.2
    layout = wrap_of(
        Cuboid(Fraction(35, 2), 21, 18), "left", "bottom", "right", deduction=lambda _: 0.1
    )
    piece = develop(layout)
    shape = outline(piece)
    assert max(shape.width, shape.length) == pytest.approx(53.3)
    assert worst_miss(piece) < 1e-9


def cylinder(diameter: float, length: float, count: int) -> tuple[Patch, ...]:
    def ring(step: int, y: float) -> tuple[float, float, float]:
        turn = 2 * math.pi * step / count
        return diameter / 2 * math.cos(turn), y, diameter / 2 * math.sin(turn)

    # seen from inside, counter-clockwise
    return tuple(
        Patch(f"stave {i + 1}", (ring(i, 0), ring(i + 1, 0), ring(i + 1, length), ring(i, length)))
        for i in range(count)
    )


@pytest.mark.parametrize(("diameter", "length"), [(8, 60), (14, 36.5)])
def test_a_rolled_pipe_is_as_wide_as_its_girth(diameter: float, length: float) -> None:
    """The girth of a cylinder is pi times its diameter."""
    count = 48
    staves = cylinder(diameter, length, count)
    pairs = {(a.name, b.name) for a, b in pairwise(staves)}
    chord = diameter * math.sin(math.pi / count)
    arc = math.pi * diameter / count
    seam = Edging((Strip(Fraction(1, 2), 0, "lap", Role.SEAM),))

    def edging(patch: str, edge: int) -> Edging:
        return seam if (patch, edge) == (f"stave {count}", 1) else RAW

    piece = develop(
        Layout(
            "pipe",
            staves,
            {b: a for a, b in pairs},
            edging=edging,
            rolled=dict.fromkeys(pairs, chord - arc),
            right=1,
        )
    )
    shape = outline(piece)
    # the first and the last stave each have one roll line: half an arc's excess is not rolled in
    assert shape.width == pytest.approx(math.pi * diameter + 0.5, abs=2 * (arc - chord))
    assert shape.length == pytest.approx(length)
    assert shape.slits == ()
    assert worst_miss(piece) < 1e-9
    assert all(hinge.forming is Forming.ROLL for hinge in piece.hinges[: count - 1])


def test_the_fold_of_a_frustum_side_is_its_dihedral_angle() -> None:
    """A pyramid frustum's corner: faces at 45 degrees to the floor meet at arccos(1/2)."""
    top = 10.0
    front = Patch("front", ((0, 0, 0), (10, 10, 10), (20, 10, 10), (30, 0, 0)))
    right = Patch("right", ((30, 0, 0), (20, 10, 10), (20, 10 + top, 10), (30, 20 + top, 0)))
    # normals (0, 1, -1) and (-1, 0, -1) over sqrt 2: cos = 1/2
    assert bend_angle(front, right) == pytest.approx(60)


def test_a_strip_on_an_arc_runs_on_without_gaps() -> None:
    """An allowance w round a sector of radius r makes it one of radius r + w."""
    radius, width, count, angle = 14.0, 0.25, 60, math.pi / 2
    rim = [
        (radius * math.cos(angle * i / count), radius * math.sin(angle * i / count), 0.0)
        for i in range(count + 1)
    ]
    cheek = Patch("cheek", ((0.0, 0.0, 0.0), *rim))
    edge = Edging((Strip(Fraction(1, 4), 90, "single edge", Role.SEAM),), 1)
    piece = develop(
        Layout("cheek", (cheek,), {}, edging=lambda _, i: edge if 1 <= i <= count else RAW)
    )
    shape = outline(piece)
    exact = angle / 2 * (radius + width) ** 2
    assert shape.slits == ()
    assert float(net_area(piece)) == pytest.approx(exact, rel=5e-4)
    assert len(shape.points) >= count


def test_a_hole_keeps_its_size_and_place_on_its_patch() -> None:
    cuboid = Cuboid(20, 16, 12)
    square = ((20, 4, 3), (20, 9, 3), (20, 9, 8), (20, 4, 8))
    piece = develop(wrap_of(cuboid, "bottom", "right", holes=(SpaceHole("right", square),)))
    assert float(net_area(piece)) == pytest.approx(20 * 16 + 12 * 16 - 25)
    xs = [x for x, _ in piece.holes[0].points]
    ys = [y for _, y in piece.holes[0].points]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((5, 5))


def test_patches_that_do_not_touch_are_refused() -> None:
    cuboid = Cuboid(20, 16, 12)
    with pytest.raises(ValueError, match="shares no edge"):
        develop(wrap_of(cuboid, "left", "right"))
    assert set(FACES) == {"bottom", "top", "front", "back", "left", "right"}
