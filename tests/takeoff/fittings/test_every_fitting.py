"""Laws that hold for every family in the folder, tried on each one's own examples."""

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from takeoff.fittings import Fitting, families
from takeoff.fittings.base import plain
from takeoff.pattern.facets import Role
from takeoff.pattern.fold import worst_miss
from takeoff.pattern.marks import Axis, chain, running_marks
from takeoff.pattern.mating import gap
from takeoff.pattern.outline import outline
from tests.takeoff.covered import assert_outline_is_its_facets, polygon
from tests.takeoff.fittings.making import example_card, shop

TOLERANCE = 1 / 64
"""Inches within which folded metal must lie where the fitting wants it."""


def cases() -> Iterator[object]:
    for family in families().values():
        for number, cells in enumerate(family.examples):
            yield pytest.param(family, cells, id=f"{family.kind} {number + 1}")


every_example = pytest.mark.parametrize(("family", "cells"), list(cases()))
every_family = pytest.mark.parametrize("family", families().values(), ids=list(families()))


@every_example
def test_each_piece_folds_onto_the_shape_it_is_for(
    family: type[Fitting], cells: Mapping[str, str]
) -> None:
    for piece in example_card(family, cells).make(shop()).pieces:
        faces = {facet.name for facet in piece.facets if facet.role is Role.FACE}
        assert set(piece.finished) == faces, "every face must say where it ends up"
        assert worst_miss(piece) <= TOLERANCE, piece.name


@every_example
def test_the_edges_of_each_seam_meet(family: type[Fitting], cells: Mapping[str, str]) -> None:
    made = example_card(family, cells).make(shop())
    for seam in made.seams:
        assert gap(seam, made.pieces) <= TOLERANCE, seam


@every_example
def test_the_outline_is_what_the_facets_cover(
    family: type[Fitting], cells: Mapping[str, str]
) -> None:
    for piece in example_card(family, cells).make(shop()).pieces:
        assert_outline_is_its_facets(piece)


@every_example
def test_a_piece_lies_at_its_datum(family: type[Fitting], cells: Mapping[str, str]) -> None:
    for piece in example_card(family, cells).make(shop()).pieces:
        assert outline(piece).corner == pytest.approx((0, 0), abs=1e-9)


@every_example
def test_holes_and_notches_lie_in_the_blank(
    family: type[Fitting], cells: Mapping[str, str]
) -> None:
    for piece in example_card(family, cells).make(shop()).pieces:
        shape = polygon(outline(piece).points)
        for hole in piece.holes:
            assert shape.contains(polygon(hole.points)), piece.name
        for notch in piece.notches:
            cut = polygon(notch.points)
            assert cut.area > 0, (piece.name, notch)
            assert cut.intersection(shape).area < 1e-6, (piece.name, notch)


@every_example
def test_running_marks_climb_to_the_far_edge(
    family: type[Fitting], cells: Mapping[str, str]
) -> None:
    for piece in example_card(family, cells).make(shop()).pieces:
        shape = outline(piece)
        for axis, size in ((Axis.WIDTH, shape.width), (Axis.LENGTH, shape.length)):
            marks = [mark.at for mark in running_marks(piece, axis)]
            assert marks == sorted(marks)
            assert marks[-1] == size
            assert float(sum(chain(piece, axis))) == pytest.approx(float(size))


@every_family
def test_a_family_introduces_itself(family: type[Fitting]) -> None:
    assert family.kind == plain(family.kind), "write the name plain: lower case, single spaces"
    assert family.summary.endswith("."), "the summary is a sentence"
    assert len(family.examples) >= 2, "give two rows as people write them"
    for name, info in family.model_fields.items():
        assert info.description, f"say what {name} is, in one sentence"
        assert info.description.endswith("."), f"{name}: the description is a sentence"
    for name in family.measured:
        assert not family.model_fields[name].is_required(), f"{name} is measured anyhow"


@every_family
def test_a_family_has_a_test_file(family: type[Fitting]) -> None:
    module = family.__module__.rpartition(".")[2]
    assert Path(__file__).with_name(f"test_{module}.py").exists()


def test_no_two_families_answer_to_one_name() -> None:
    names = [name for family in families().values() for name in (family.kind, *family.also)]
    assert len(names) == len(set(names))
