"""Round caps."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake
from takeoff.pattern.outline import net_area, outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.making import card, made
from tests.takeoff.fittings.rounds import (
    MANY,
    SIXTY_FOURTH,
    SOME,
    assert_sound,
    girth,
    named,
    quarters,
    sampled,
    strips,
)


@MANY
@given(quarters(3, 30), st.sampled_from(["1/4", "1/2", "3/4"]))
def test_a_disc_is_the_pipe_and_its_turned_edge(diameter: Fraction, flange: str) -> None:
    """A disc of d + 2 w; pi d^2 / 4 of it is left inside the edge."""
    result = made("round cap", diameter=diameter, flange=flange)
    assert_sound(result)
    (disc,) = result.pieces
    across = float(diameter + 2 * Fraction(flange))
    shape = outline(disc)
    for size in (float(shape.width), float(shape.length)):
        assert across <= size <= across + 2 * SIXTY_FOURTH
    assert float(net_area(disc)) == pytest.approx(math.pi * across**2 / 4, rel=8e-3)
    assert face_area(disc) == pytest.approx(math.pi * float(diameter) ** 2 / 4, rel=8e-3)
    assert sum(1 for _ in strips(disc, "flange")) % 24 == 0


@SOME
@given(
    quarters(3, 16),
    st.integers(1, 6),
    st.sampled_from(["paned", "lap"]),
    st.sampled_from(["crimp", "raw", "hem"]),
)
def test_any_cap_with_a_collar_closes(
    diameter: Fraction, collar: int, joint: str, end: str
) -> None:
    result = made("round cap", diameter=diameter, collar=collar, joint=joint, end_1=end)
    assert_sound(result)
    disc, wall = result.pieces
    assert [seam.kind for seam in result.seams] == [joint, "grooved"]
    points = sampled(wall)
    off = np.hypot(points[:, 0], points[:, 1]) - float(diameter) / 2
    assert np.abs(off).max() <= SIXTY_FOURTH
    assert girth(wall, 0) == pytest.approx(math.pi * float(diameter))
    height = collar + (1.5 if end == "crimp" else 0)
    assert face_area(wall) == pytest.approx(math.pi * float(diameter) * height)
    # the disc's edge is as long as the collar that it closes
    assert girth(disc, 0) <= girth(wall, 0)
    assert sampled(disc)[:, 2] == pytest.approx(np.zeros(len(sampled(disc))))


def test_a_paned_bottom_has_the_double_edge() -> None:
    """Single throw-off 3/16 on the body, double edge 3/8 on the bottom (Atkins, 24 ga)."""
    disc, wall = made("round cap", diameter=6, collar=2).pieces
    assert float(outline(disc).width) == pytest.approx(6.75, abs=2 * SIXTY_FOURTH)
    throw_off = strips(wall, "throw-off")
    assert len(throw_off) == len(strips(disc, "double edge"))
    angles = {hinge.child: hinge.angle for hinge in wall.hinges}
    assert {round(angles[facet.name], 6) for facet in throw_off} == {-90}


def test_a_lapped_bottom_is_a_plain_disc() -> None:
    result = made("round cap", diameter=10, collar=3, joint="lap", end_1="raw")
    (disc,) = named(result, "disc")
    assert len(disc.facets) == 1
    assert len(strips(result.pieces[1], "lap")) > 24


def test_it_tells_what_to_set_the_compass_to() -> None:
    assert made("round cap", diameter=8).notes == (
        "Cut the disc 9 in across and scribe its edge at 8 in across.",
    )


@pytest.mark.parametrize(
    ("column", "cells"),
    [
        ("edge", {"edge": "drive"}),
        ("diameter", {"diameter": 62}),
        ("end_1", {"collar": 2, "end_1": "slip"}),
        ("seam", {"collar": 2, "seam": "glued"}),
    ],
)
def test_what_cannot_be_made_names_its_column(column: str, cells: dict[str, object]) -> None:
    with pytest.raises(CannotMake) as refusal:
        made("round cap", **{"diameter": 8, **cells})
    assert refusal.value.column == column


@pytest.mark.parametrize("cells", [{"diameter": 2, "flange": 1}, {"diameter": "58 15/16"}])
def test_the_limits_themselves_are_made(cells: dict[str, object]) -> None:
    assert_sound(made("round cap", **cells))


@pytest.mark.parametrize(
    "cells", [{"diameter": 0}, {"collar": 0}, {"flange": 0}, {"flange": "1 1/16"}, {"joint": "x"}]
)
def test_sizes_beyond_the_limits_are_refused(cells: dict[str, object]) -> None:
    with pytest.raises(ValidationError) as refusal:
        card("round cap", **{"diameter": 8, **cells})
    assert refusal.value.errors()[0]["loc"] == tuple(cells)
