"""Where bends lie, in words, held against places reckoned by hand."""

from takeoff.lengths import INCH
from takeoff.pattern.bend_words import place_told
from takeoff.pattern.bending import bend_order
from tests.takeoff.fittings.making import made, shop


def told(family: str, **cells: object) -> list[str]:
    piece = made(family, **cells).pieces[0]
    return [
        f"{step.label}: {place_told(step, piece, INCH)}"
        for step in bend_order(piece, shop().profile.brake)
    ]


def test_all_four_corners_of_a_pan_are_told() -> None:
    # the blank is 28 x 34, walls 2 high round a floor of 24 x 30: its lines lie 2 from every edge,
    # and each corner has one that goes on from a side wall, a diagonal and one on an end wall
    assert sorted(told("drain pan", width="24", depth="30", height="2", rim="raw")) == sorted(
        [
            "bend: 2 from the left",
            "bend: 26 from the left",
            "bend: 2 from below",
            "bend: 32 from below",
            "ear: 4 lines, 2 and 32 from below",
            "ear: 4 lines, aslant as drawn",
            "ear: 4 lines, 2 and 26 from the left",
        ]
    )


def test_a_curved_edge_is_told_as_one() -> None:
    cheek = told("elbow", width="18", height="8", throat="6")
    assert cheek.count("single edge: along the curve") == 2
