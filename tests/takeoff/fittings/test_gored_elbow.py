"""Gored elbows, held against drafting-book examples and the sine curve of a mitre."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.fittings import CannotMake, Made
from takeoff.fittings.gored_elbow import fewest_gores
from takeoff.materials import sheet
from takeoff.pattern.facets import Piece
from takeoff.pattern.outline import net_area, outline
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.making import card, made
from tests.takeoff.fittings.rounds import (
    MANY,
    SIXTY_FOURTH,
    SOME,
    assert_sound,
    faces,
    folded_faces,
    girth,
    quarters,
    rolls,
    sampled,
    strips,
)

RAW = {"end_1": "raw", "end_2": "raw"}
STOVEPIPE_LOCK = '[seams.grooved]\npocket = "1/2"\nsingle = "1/2"\n'
"""1/2 each side: Longfield, Sheet Metal Drafting, p. 54."""


def elbow(**cells: object) -> Made:
    return made("gored elbow", **{**RAW, **cells})


def axis_of(place: int, degrees: float, radius: float) -> tuple[np.ndarray, np.ndarray]:
    """A point on the axis of a piece and its direction, from the geometry of the bend alone."""
    at = math.radians(2 * degrees * place)
    out = np.array([math.cos(at), 0, math.sin(at)])
    return radius * out, np.array([-math.sin(at), 0, math.cos(at)])


def off_pipe(points: np.ndarray, origin: np.ndarray, along: np.ndarray, diameter: float) -> float:
    """How far points lie off a pipe's true round, at most."""
    away = points - origin
    away -= np.outer(away @ along, along)
    return float(np.abs(np.linalg.norm(away, axis=1) - diameter / 2).max())


def rim(piece: Piece, edge: int) -> np.ndarray:
    """The corners of a rim of a folded piece."""
    return np.vstack([corners[edge : edge + 1] for corners in folded_faces(piece).values()])


@SOME
@given(
    quarters(5, 14),
    st.sampled_from([15.0, 30.0, 45.0, 75.0, 90.0, 135.0]),
    st.integers(0, 1),
    st.sampled_from(["1 1/4", "1 1/2", "2"]),
    st.sampled_from(["raw", "crimp", "flange out", "hem"]),
)
def test_any_elbow_folds_to_the_true_round_and_its_mitres(
    diameter: Fraction, angle: float, more: int, ratio: str, end: str
) -> None:
    gores = fewest_gores(diameter, angle) + more
    factor = sum(Fraction(part) for part in ratio.split())
    radius = factor * diameter
    backset = angle / 2 / gores
    assume(float(radius - diameter / 2) * math.tan(math.radians(backset)) > 1 / 4)
    result = elbow(
        diameter=diameter,
        angle=angle,
        gores=gores,
        centreline_radius=radius,
        neck_1="1",
        end_2=end,
    )
    assert_sound(result)
    assert len(result.pieces) == gores + 1
    for place, piece in enumerate(result.pieces):
        origin, along = axis_of(place, backset, float(radius))
        assert off_pipe(sampled(piece), origin, along, float(diameter)) <= SIXTY_FOURTH
        for joint, edge in ((place - 1, 0), (place, 2)):
            if 0 <= joint < gores:
                at = math.radians(backset * (2 * joint + 1))
                normal = np.array([-math.sin(at), 0, math.cos(at)])
                assert np.abs(rim(piece, edge) @ normal).max() <= SIXTY_FOURTH
    # the open ends are as wide as asked
    assert girth(result.pieces[0], 0) == pytest.approx(math.pi * float(diameter))
    assert girth(result.pieces[-1], 2) == pytest.approx(math.pi * float(diameter))


@MANY
@given(quarters(5, 12), st.integers(1, 3), st.integers(0, 4))
def test_the_area_is_girth_times_the_middles(diameter: Fraction, gores: int, neck: int) -> None:
    """The mean of h(t) round is CLR tan(backset), so area = pi d (2 n CLR tan b + necks)."""
    result = elbow(diameter=diameter, angle=60, gores=gores, neck_1=neck, neck_2=neck)
    radius = 1.5 * float(diameter)
    middles = 2 * gores * radius * math.tan(math.radians(30 / gores)) + 2 * neck
    expected = math.pi * float(diameter) * middles
    assert face_area(*result.pieces) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("pieces", "angle", "mitres"),
    [
        # Longfield p. 59 (5 pieces, 90 degrees) and p. 52 (2 pieces, 60 degrees)
        (5, 90, [11.25, 33.75, 56.25, 78.75]),
        (2, 60, [30]),
        # problems there, answers calculated: n pieces have 2 (n - 1) backsets
        (4, 75, [12.5, 37.5, 62.5]),
        (3, 90, [22.5, 67.5]),
    ],
)
def test_the_mitre_lines_of_the_drafting_book(
    pieces: int, angle: float, mitres: list[float]
) -> None:
    result = elbow(diameter=4, angle=angle, gores=pieces - 1, centreline_radius=8)
    assert len(result.pieces) == pieces
    for piece, mitre in zip(result.pieces, mitres, strict=False):
        points = rim(piece, 2)
        # every point of the cut is seen from the bend's axis in one direction
        seen = np.degrees(np.arctan2(points[:, 2], points[:, 0]))
        assert seen == pytest.approx(np.full(len(seen), mitre), abs=0.03)


def test_two_pieces_stand_on_diameter_and_throat_radius() -> None:
    """Longfield p. 52: base line 4 1/2 + 3 = 7 1/2; the heel is 7.5 tan 30 long."""
    first, _ = elbow(diameter="4 1/2", angle=60, gores=1, centreline_radius="5 1/4").pieces
    flat = [facet.corners for facet in faces(first)]
    heights = [float(c[3][1]) - float(c[0][1]) for c in flat]
    assert max(heights) == pytest.approx(7.5 * math.tan(math.radians(30)))
    assert min(heights) == pytest.approx(3 * math.tan(math.radians(30)))


@pytest.mark.parametrize("pieces", range(2, 9))
def test_seven_elbows_share_one_backset(pieces: int) -> None:
    """2 to 8 pieces at 12 to 84 degrees: 6 degrees in every one (calculated)."""
    fitting = card("gored elbow", diameter=4, angle=12 * (pieces - 1), gores=pieces - 1)
    assert fitting._mitre().degrees == pytest.approx(6)


@pytest.mark.parametrize(
    ("angle", "small", "large"), [(90, 5, 6), (60, 4, 5), (45, 3, 4), (30, 3, 3), (15, 2, 2)]
)
def test_the_fewest_pieces_published(angle: float, small: int, large: int) -> None:
    """Unified Facilities Guide Specification 15801N, to 16 in and above."""
    assert fewest_gores(16, angle) + 1 == small
    assert fewest_gores(17, angle) + 1 == large


def test_beyond_a_right_angle_no_joint_turns_more_than_in_it() -> None:
    assert fewest_gores(8, 135) == 6
    assert fewest_gores(8, 91) == 5
    assert fewest_gores(20, 180) == 10


def test_half_heights_of_a_gore() -> None:
    """d 8, 90 degrees, 5 pieces, centreline 12: h(t) = (12 - 4 cos t) tan 11.25 (calculated)."""
    result = elbow(diameter=8, angle=90, gores=4, centreline_radius=12)
    end = result.pieces[0]
    count = rolls(end) + 1
    lines = [float(f.corners[3][1]) - float(f.corners[0][1]) for f in faces(end)]
    for degrees, height in [
        (0, 1.5913),
        (30, 1.6979),
        (60, 1.9891),
        (90, 2.3869),
        (120, 2.7848),
        (150, 3.0760),
        (180, 3.1826),
    ]:
        assert lines[count * degrees // 360] == pytest.approx(height, abs=5e-5)
    # middle pieces are double; the second one begins in the back
    middle = [float(f.corners[3][1]) - float(f.corners[0][1]) for f in faces(result.pieces[1])]
    assert middle[0] == pytest.approx(6.3652, abs=1e-4)
    assert middle[count // 2] == pytest.approx(3.1826, abs=1e-4)
    assert girth(end, 0) == pytest.approx(25.1327, abs=5e-5)


def test_all_pieces_stacked_fill_one_rectangle() -> None:
    """25.1327 x 19.0956 with no loss: 479.92 in2 (calculated)."""
    result = elbow(diameter=8, angle=90, gores=4, centreline_radius=12)
    assert face_area(*result.pieces) == pytest.approx(479.92, abs=0.01)
    # seams in turn in throat and back: where one piece ends low the next begins low
    first = [float(f.corners[3][1]) - float(f.corners[0][1]) for f in faces(result.pieces[0])]
    second = [float(f.corners[3][1]) - float(f.corners[0][1]) for f in faces(result.pieces[1])]
    for one, other in zip(first, second, strict=True):
        assert one + other / 2 == pytest.approx(19.0956 / 4, abs=1e-4)


def test_weight_by_the_arc_rule() -> None:
    """4 in, 4 pieces, 60 degrees, 24 ga, centreline 8: arc 8.377 x cut 14 x weight per area.

    Longfield, Sheet Metal Drafting, p. 61, prints the arc and the cut; the weight they give, 0.942
    lb, is calculated. His 14 in cut is 3 % wide of pi d + 1, and the arc 1 % short of the mitres.
    """
    result = made(
        "gored elbow",
        STOVEPIPE_LOCK + "[seams.paned]\npocket = 0\nsingle = 0\n",
        **RAW,
        diameter=4,
        angle=60,
        gores=3,
        centreline_radius=8,
    )
    weight = sum(float(net_area(piece)) for piece in result.pieces) / 144
    weight *= float(sheet("galvanized", 24).weight)
    assert weight == pytest.approx(0.942, rel=0.025)
    exact = 6 * 8 * math.tan(math.radians(10)) * (4 * math.pi + 1) * 1.156 / 144
    assert weight == pytest.approx(exact, rel=1e-3)


def test_one_gore_is_a_mitre_with_its_sine_curve() -> None:
    """The flat cut is y = (CLR - r cos(x / r)) tan(angle / 2)."""
    first, _ = elbow(diameter=6, angle=90, gores=1, centreline_radius=6).pieces
    flat = faces(first)
    left, low = (float(c) for c in flat[0].corners[0])
    for facet in flat:
        (_, _, right, up) = (tuple(map(float, c)) for c in facet.corners)
        for x, y in (right, up):
            assert y - low == pytest.approx(6 - 3 * math.cos((x - left) / 3), abs=1e-6)
        middle = (right[0] + up[0]) / 2 - left, (right[1] + up[1]) / 2 - low
        assert middle[1] == pytest.approx(6 - 3 * math.cos(middle[0] / 3), abs=SIXTY_FOURTH)


def test_many_gores_come_to_the_area_of_a_smooth_bend() -> None:
    """Pappus: pi d times the centreline's arc."""
    result = elbow(diameter=6, angle=90, gores=24, centreline_radius=24)
    smooth = math.pi * 6 * 24 * math.pi / 2
    assert face_area(*result.pieces) == pytest.approx(smooth, rel=4e-4)


def test_the_joints_are_paned_and_lie_in_the_mitre_plane() -> None:
    result = elbow(diameter=6, angle=90, gores=1, centreline_radius=6)
    first, last = result.pieces
    double, single = strips(first, "double edge"), strips(last, "throw-off")
    assert len(double) == len(single) == rolls(first) + 1
    angles = {h.child: h.angle for h in first.hinges}
    turned = [angles[facet.name] for facet in double]
    # 45 degree mitre: from 45 in the throat to 135 in the back, always outward
    assert max(turned) == pytest.approx(-45, abs=1)
    assert min(turned) == pytest.approx(-135, abs=1)


def test_a_large_elbow_is_made_in_halves_round() -> None:
    result = elbow(diameter=40, angle=15, centreline_radius=40, neck_1=1, neck_2=1)
    assert len(result.pieces) == 4
    assert_sound(result)


@pytest.mark.parametrize(
    ("column", "cells", "allowed"),
    [
        ("centreline_radius", {"centreline_radius": "3 15/16"}, "4 in"),
        ("centreline_radius", {"centreline_radius": "5 1/4"}, "5 5/16"),
        ("gores", {"gores": 1, "angle": 91}, "2 or more"),
        ("end_2", {"end_2": "slip"}, "raw"),
        ("joint", {"joint": "welded flange"}, "Known"),
    ],
)
def test_what_cannot_be_made_says_what_can(
    column: str, cells: dict[str, object], allowed: str
) -> None:
    with pytest.raises(CannotMake, match=allowed) as refusal:
        elbow(**{"diameter": 8, "angle": 90, **cells})
    assert refusal.value.column == column


@pytest.mark.parametrize(
    "cells",
    [
        {"gores": 1, "angle": 90, "centreline_radius": 8},
        {"angle": 180, "gores": 4},
        {"angle": 90, "centreline_radius": "5 5/16"},
        {"angle": 90, "gores": 1, "centreline_radius": 4, "neck_1": "1/4", "neck_2": "1/4"},
    ],
)
def test_the_limits_themselves_are_made(cells: dict[str, object]) -> None:
    assert_sound(elbow(**{"diameter": 8, **cells}))


@pytest.mark.parametrize("cells", [{"angle": 0}, {"angle": 181}, {"gores": 0}, {"gores": 25}])
def test_sizes_beyond_the_limits_are_refused(cells: dict[str, object]) -> None:
    with pytest.raises(ValidationError) as refusal:
        card("gored elbow", **{"diameter": 8, **cells})
    assert refusal.value.errors()[0]["loc"] == tuple(cells)


def test_equal_gores_are_cut_alike() -> None:
    """The blanks of pieces 2 and 4 are one layout."""
    result = elbow(diameter=8, angle=90)
    sizes = [(float(outline(p).width), float(outline(p).length)) for p in result.pieces]
    assert sizes[1] == pytest.approx(sizes[3])


def test_a_small_end_is_for_straight_pipe() -> None:
    """Its girth tapers by 7 t, which gores cut square to their seams do not."""
    with pytest.raises(CannotMake, match="straight pipe only") as refusal:
        made("gored elbow", diameter=8, end_2="small end")
    assert refusal.value.column == "end_2"
