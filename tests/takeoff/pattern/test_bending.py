"""Bend orders that a person at a brake can check by hand."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.fittings import Made
from takeoff.pattern.bending import BendStep, Place, bend_order
from takeoff.pattern.brake import Metal
from takeoff.pattern.facets import Forming
from takeoff.profile import default, loads
from takeoff.settings import Brake
from tests.takeoff.fittings.making import made

BRAKE = default().brake


def labels(steps: tuple[BendStep, ...]) -> list[str]:
    return [step.label for step in steps]


def return_box(height: str = "18") -> Made:
    return made("return box", width="17 1/2", depth="21", height=height)


def test_lips_are_bent_before_their_flanges_and_sides_last() -> None:
    # Common practice, no source: the lip to about 45 degrees before the flange goes to 90.
    steps = bend_order(return_box().pieces[0], BRAKE)
    assert labels(steps) == ["lip", "lip", "flange", "flange", "bend", "bend"]
    assert [step.angle for step in steps] == [45, 45, 90, 90, 90, 90]
    assert {step.place for step in steps} == {Place.ANYWHERE}


def test_the_last_bends_of_a_pan_need_fingers() -> None:
    """Two opposite edges go up anywhere; the other two then have metal standing at both ends."""
    steps = bend_order(return_box().pieces[1], BRAKE)
    assert labels(steps).index("lip") < labels(steps).index("flange")
    assert [step.place for step in steps] == [Place.ANYWHERE] * 3 + [Place.FINGERS] * 2


def test_without_fingers_the_last_bend_is_made_by_hand() -> None:
    plain = loads("[brake]\nfingers = false").brake
    places = [step.place for step in bend_order(return_box().pieces[1], plain)]
    assert places.count(Place.BY_HAND) == 1
    assert Place.FINGERS not in places


def test_a_flange_turned_out_is_kept_past_the_end_of_the_brake() -> None:
    """The out-turned flange hangs down at one end of each corner bend: it must clear the bed."""
    wrap = made("plenum", width="20", depth="20", height="24").pieces[0]
    steps = bend_order(wrap, BRAKE)
    flange = next(step for step in steps if step.label == "flange")
    assert len(flange.hinges) == 4, "the four flanges lie on one line and are bent in one stroke"
    assert flange.angle == -90
    assert all(step.place is Place.END for step in steps[steps.index(flange) :])


def test_duct_smaller_than_the_beam_cannot_be_closed_on_the_brake() -> None:
    """The third corner of a 6 x 4 tube would swing its side through the 8 in beam."""
    wrap = made("straight duct", width="6", height="4", length="40").pieces[0]
    assert bend_order(wrap, BRAKE)[-1].place is Place.BY_HAND
    wide = made("straight duct", width="20", height="10", length="40").pieces[0]
    assert {step.place for step in bend_order(wide, BRAKE)} == {Place.ANYWHERE}


def test_each_curved_edge_that_is_turned_by_hand_is_a_step_of_its_own() -> None:
    """The cheek of an elbow with a radius has its single edge round the throat and the heel."""
    cheek = made("elbow", width="18", height="8", throat="6").pieces[0]
    turned = [step for step in bend_order(cheek, BRAKE) if step.place is Place.BY_HAND]
    assert [step.label for step in turned] == ["single edge"] * 2
    by_hand = {hinge for hinge in cheek.bends if hinge.forming is Forming.HAND}
    assert {hinge for step in turned for hinge in step.hinges} == by_hand
    for step in turned:
        ends = [point for hinge in step.hinges for point in (hinge.start, hinge.end)]
        assert len(step.hinges) > 1
        assert len(set(ends)) == len(step.hinges) + 1, "they run on into each other"
    pan = made("drain pan", width="24", depth="30", height="2").pieces[0]
    ears = [step for step in bend_order(pan, BRAKE) if step.label == "ear"]
    assert [len(step.hinges) for step in ears] == [4] * 3, "the four corners alike"
    assert not any(step.curved for step in ears)


def test_a_lock_former_takes_no_place_in_the_order() -> None:
    wrap = return_box().pieces[0]
    assert any(hinge.forming is Forming.LOCK_FORMER for hinge in wrap.hinges)
    assert "pocket" not in labels(bend_order(wrap, BRAKE))


sixteenths = st.integers(6 * 16, 30 * 16).map(lambda n: Fraction(n, 16))


@settings(max_examples=15, deadline=None)
@given(
    width=sixteenths,
    depth=sixteenths,
    height=sixteenths,
    edges=st.sampled_from(["raw", "hem", "flange out", "bearing flange"]),
    arrangement=st.sampled_from(["wrap and ends", "two wraps", "separate sides"]),
    fingers=st.booleans(),
)
def test_every_brake_line_is_bent_once(
    width: Fraction,
    depth: Fraction,
    height: Fraction,
    edges: str,
    arrangement: str,
    fingers: bool,
) -> None:
    brake: Brake = loads(f"[brake]\nfingers = {str(fingers).lower()}").brake
    result = made(
        "box", width=width, depth=depth, height=height, edges=edges, arrangement=arrangement
    )
    for piece in result.pieces:
        steps = bend_order(piece, brake)
        bent = [hinge for step in steps for hinge in step.hinges]
        wanted = [h for h in piece.hinges if h.forming is Forming.BRAKE]
        assert sorted(h.child for h in bent) == sorted(h.child for h in wanted)
        assert fingers or all(step.place is not Place.FINGERS for step in steps)


@pytest.mark.parametrize(
    ("height", "inside"), [(0.5, True), (-0.5, False), (1.5, False), (0.999, True)]
)
def test_a_sheet_is_in_a_room_when_part_of_it_is(height: float, inside: bool) -> None:
    """The unit cube as the room, a large level sheet at some height."""
    room = np.array(
        [[1, 0, 0, 0], [-1, 0, 0, -1], [0, 1, 0, 0], [0, -1, 0, -1], [0, 0, 1, 0], [0, 0, -1, -1.0]]
    )
    sheet = np.array([[-9.0, -9, height], [9, -9, height], [9, 9, height], [-9, 9, height]])
    aside = sheet + np.array([20.0, 0, 0])
    assert Metal.of({"aside": aside, "sheet": sheet}).enters(room) is inside
    assert not Metal.of({"aside": aside}).enters(room)
    assert not Metal.of({}).enters(room)
