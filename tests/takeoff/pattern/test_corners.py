"""What happens to strips in corners that go in, and to their widths where bends take up metal."""

import math
from fractions import Fraction

import pytest

from takeoff.pattern.allowances import Strip
from takeoff.pattern.develop import Layout, develop
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Facet, Hinge, Piece, Role
from takeoff.pattern.fold import fold_in_place, worst_miss
from takeoff.pattern.outline import net_area, outline
from takeoff.pattern.patches import Patch

FLANGE = Edging((Strip(Fraction(1), 90, "flange", Role.END),), 1)
ELL = Patch("cheek", ((0, 0, 0), (9, 0, 0), (9, 9, 0), (5, 9, 0), (5, 5, 0), (0, 5, 0)))


def test_strips_in_a_corner_that_goes_in_are_parted_by_a_slit_on_the_mitre() -> None:
    piece = develop(Layout("cheek", (ELL,), {}, lambda _, edge: FLANGE if edge in (3, 4) else RAW))
    shape = outline(piece)
    (slit,) = shape.slits
    assert math.dist(slit.start, slit.end) == pytest.approx(math.sqrt(2))
    assert piece.notches == ()
    # the L is 9 x 5 + 4 x 4; strips of 4 and 5 in, each losing the triangle 1 x 1 to the mitre
    assert float(net_area(piece)) == pytest.approx(61 + 4 + 5 - 1)


RAW = Edging()


def test_flanges_keep_their_finished_width_where_bends_take_up_metal() -> None:
    plate = Patch("plate", ((0, 0, 0), (10, 0, 0), (10, 6, 0), (0, 6, 0)))
    layout = Layout("plate", (plate,), {}, lambda _, edge: FLANGE, deduction=lambda angle: 0.1)
    piece = develop(layout)
    shape = outline(piece)
    # four flanges of 1: 10 + 2 - 2 x 0.1 by 6 + 2 - 2 x 0.1
    assert sorted((shape.width, shape.length)) == pytest.approx([7.8, 11.8])
    assert worst_miss(piece) < 1e-9
    tips = [corners for name, corners in fold_in_place(piece).items() if "flange" in name]
    assert [float(abs(c[:, 2]).max()) for c in tips] == pytest.approx([1.0] * 4)


def test_a_bend_that_closes_a_ring_of_facets_is_no_cut() -> None:
    """Four squares round a point: three hinges hold them, the fourth line is only bent."""
    squares = {"a": (0, 0), "b": (1, 0), "c": (1, 1), "d": (0, 1)}
    facets = tuple(
        Facet(name, ((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)))
        for name, (x, y) in squares.items()
    )
    hinges = (
        Hinge("a", "b", (1, 0), (1, 1), 90),
        Hinge("b", "c", (2, 1), (1, 1), 90),
        Hinge("c", "d", (1, 2), (1, 1), 90),
    )
    closing = (Hinge("a", "d", (1, 1), (0, 1), 90),)
    assert len(outline(Piece("torn", facets, hinges)).slits) == 1
    whole = Piece("whole", facets, hinges, closing=closing)
    assert outline(whole).slits == ()
    assert float(outline(whole).area) == 4
    assert whole.bends == (*hinges, *closing)
