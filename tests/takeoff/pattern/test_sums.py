"""The sums that make developed sizes."""

import pytest

from takeoff.fittings import Fitting, families
from takeoff.lengths import show_exactly
from takeoff.pattern.facets import Piece
from takeoff.pattern.marks import Axis
from takeoff.pattern.outline import outline
from takeoff.pattern.sums import Term, terms
from tests.takeoff.fittings.making import example_card, made, shop


def told(added: tuple[Term, ...]) -> str:
    return " + ".join(show_exactly(term.size) for term in added)


def wrap() -> Piece:
    return made("return box", width="17 1/2", depth="24", height="18").pieces[0]


def test_the_strips_of_an_edge_are_one_term() -> None:
    # 2 in flange and 1/2 in lip at both ends, 18 high, 17 1/2 wide: 58 1/2
    added = terms(wrap(), Axis.WIDTH)
    assert told(added) == "2 1/2 + 18 + 17 1/2 + 18 + 2 1/2"
    assert [(part.label, part.size) for part in added[0].parts] == [("lip", 0.5), ("flange", 2)]
    assert [part.label for part in added[-1].parts] == ["flange", "lip"]
    assert sum(term.size for term in added) == 58.5


def test_faces_side_by_side_stay_apart() -> None:
    duct = made("straight duct", width="20", height="8", length="47").pieces[0]
    assert told(terms(duct, Axis.WIDTH)) == "1/4 + 20 + 8 + 20 + 8 + 1"
    assert told(terms(duct, Axis.LENGTH)) == "1/2 + 47 + 1/2"


def test_what_is_rolled_is_one_term() -> None:
    pipe = made("round pipe", diameter="8", length="40").pieces[0]
    edge, rolled, other = terms(pipe, Axis.WIDTH)
    assert [part.label for part in (*edge.parts, *other.parts)] == ["lock edge", "lock edge"]
    assert float(rolled.size) == pytest.approx(8 * 3.14159265, abs=1e-4)


@pytest.mark.parametrize("family", families().values(), ids=lambda family: family.kind)
def test_terms_add_up_to_every_blank(family: type[Fitting]) -> None:
    for example in family.examples:
        for piece in example_card(family, example).make(shop()).pieces:
            shape = outline(piece)
            for axis, size in ((Axis.WIDTH, shape.width), (Axis.LENGTH, shape.length)):
                total = sum(float(term.size) for term in terms(piece, axis))
                assert total == pytest.approx(float(size), abs=1e-6)
