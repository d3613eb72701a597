"""Hardware counted by hand, and held against the published rules."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.bill.fasteners import rivets_along, screws_along
from takeoff.bill.sealing import cartridge_reach
from takeoff.errors import ProfileFault
from takeoff.profile import default, loads
from tests.takeoff.bill.jobs import DUCT, needs, quantities, row

LAP = {"width": "12", "height": "8", "latches": "2"}


def test_a_run_of_duct_by_hand() -> None:
    # 118 in is cut 47 + 47 + 24: two joints inside, and its two ends make one: 3 joints 20 x 8
    found = needs(row("straight duct", DUCT))
    assert {key: line.qty for key, line in found.items()} == {
        ("drive cleat", "for a side of 8 in, galvanized 24 ga"): 6,
        ("slip cleat", "for a side of 20 in, galvanized 24 ga"): 6,
        # (20 - 2 x 2) / 12 = 1 1/3, so 2 spaces and 3 screws on each of 6 slips
        ("sheet metal screw", "S slips"): 18,
        # 3 x 2 (20 + 8) = 168 in; a cartridge makes 371 in of 1/4 in bead
        ("sealant cartridge", "10.1 fl oz"): 1,
        # 118 in is less than 10 ft; 56 in round
        ("hanger", "A1, 56 in round: 1/2 in x 18 ga strap or 12 ga galvanized wire"): 1,
    }
    # 2 1/8 x (8 + 2 x 1) = 21 1/4 in2 of 24 gauge: 21.25 / 144 x 1.156 lb/ft2 at 1.10 a pound
    drive = found["drive cleat", "for a side of 8 in, galvanized 24 ga"]
    assert drive.unit_cost == Fraction("21.25") / 144 * Fraction("1.156") * Fraction("1.1")
    assert drive.cost == 6 * drive.unit_cost


def test_a_return_box_by_hand() -> None:
    box = row("return box", {"width": "19", "depth": "24", "height": "16"})
    assert quantities(box) == {
        # bearing flanges lap in four corners, two rivets in each: one lets the box rack
        # (common practice, no source)
        ("rivet", "corners of flanges"): 8,
        ("gasket tape", ""): pytest.approx(2 * (19 + 24) / 12),
    }


@pytest.mark.parametrize(
    ("edges", "rivets"), [("bearing flange", 8), ("top: bearing flange; top/left: hem", 4)]
)
def test_rivets_go_only_where_two_flanges_lap(edges: str, rivets: int) -> None:
    # with a hem on the left, two of the four corners have one flange only
    box = row("box", {"width": "19", "depth": "24", "height": "16", "edges": edges})
    assert quantities(box)["rivet", "corners of flanges"] == rivets


def test_mitred_corners_at_a_bend_take_no_rivet() -> None:
    # one tray: flanges of neighbouring sides meet at seams, three sides of a wrap at bends
    cells = {"width": "19", "depth": "24", "height": "16", "ends": "top and bottom"}
    wrapped = row("box", {**cells, "edges": "bearing flange"})
    # the wrap goes round the four sides: three corners at bends, one at its seam
    assert quantities(wrapped)["rivet", "corners of flanges"] == 2


def test_three_screws_a_round_joint() -> None:
    """IMC 603 (up.codes, section 603) and Minnesota Rules 1346.0603: at least 3, equally spaced."""
    # 110 in of pipe is 46 1/2 + 46 1/2 + 17: two joints inside, and its two ends make one
    pipe = row("round pipe", {"diameter": "10", "length": "110"})
    assert quantities(pipe)["sheet metal screw", "round joints"] == 3 * 3
    with pytest.raises(ProfileFault, match=r"fastening.round_screws: 2 is less than 3"):
        loads("[fastening]\nround_screws = 2")


@given(st.fractions(min_value=1, max_value=200, max_denominator=16))
def test_screws_of_a_slip(side: Fraction) -> None:
    """Within 2 in of the corners, 12 in apart at most (Machinery's Handbook 31st ed., p. 1446)."""
    count = screws_along(side, default().fastening)
    assert count >= 1
    if count == 1:
        assert side / 2 <= 2
    else:
        assert (side - 4) / (count - 1) <= 12  # the outer ones 2 in from the corners
        assert count == 2 or (side - 4) / (count - 2) > 12  # and no more than it takes


@given(st.fractions(min_value=1, max_value=200, max_denominator=16))
def test_rivets_of_a_lap(seam: Fraction) -> None:
    count = rivets_along(seam, default().fastening)
    assert seam / (count - 1) <= 4 < seam / max(count - 2, Fraction(1, 10**6))


def test_laps_are_riveted_and_sealed() -> None:
    # the frame's collar closes with one lap seam 1 in long: a rivet at each end
    door = needs(row("access door", LAP, qty=3))
    assert door["rivet", "lap seams"].qty == 3 * 2
    assert "0.2 ft of seams" in door["sealant cartridge", "10.1 fl oz"].why  # 3 in
    assert door["latch", "for the door"].qty == 6
    assert door["latch", "for the door"].cost is None


def test_what_a_cartridge_makes() -> None:
    # 10.1 fl oz x 231 / 128 in3 = 18.227 in3 over pi / 4 x (1/4)^2 = .049087 in2: 371.3 in
    assert float(cartridge_reach(default().sealing)) == pytest.approx(371.3, abs=0.05)


def test_locking_seams_are_not_sealed_unless_the_shop_says() -> None:
    box = row("plenum", {"width": "17", "depth": "20", "height": "24"})
    assert ("sealant cartridge", "10.1 fl oz") not in needs(box)
    # Pittsburgh all round the top and once along the side: 2 (17 + 20) + 24 = 98 in
    sealed = needs(box, profile="[seams.pittsburgh]\nsealed = true")
    assert "8.2 ft of seams" in sealed["sealant cartridge", "10.1 fl oz"].why


def test_flanged_joints_take_tape_and_corners() -> None:
    ends = {**DUCT, "length": "40", "end_1": "flange out", "end_2": "flange out"}
    found = quantities(row("straight duct", ends))
    assert found["gasket tape", ""] == pytest.approx(2 * 28 / 12)
    assert found["corner angle", "galvanized 24 ga"] == 4
    assert ("sealant cartridge", "10.1 fl oz") not in found


def test_a_cap_is_a_joint_of_its_own() -> None:
    duct = row("straight duct", {**DUCT, "length": "40", "end_1": "raw", "end_2": "raw"})
    cap = row("end cap", {"width": "20", "height": "8"}, qty=2)
    found = needs(duct, cap)
    # each side of 20 takes 3 screws, each of 8 takes 2: 10 round a cap
    assert found["sheet metal screw", "end caps"].qty == 20
    # the caps go over the duct's ends: 2 joints of 56 in, not 3
    assert "9.3 ft of joints" in found["sealant cartridge", "10.1 fl oz"].why


def test_cleats_that_a_row_makes_are_not_counted_twice() -> None:
    made = row("drive cleat", {"duct_side": "8"}, qty=4)
    found = needs(row("straight duct", DUCT), made)
    drive = found["drive cleat", "for a side of 8 in, galvanized 24 ga"]
    assert drive.qty == 2
    assert "less 4 that rows of the job make" in drive.why


STRAP_18 = "1/2 in x 18 ga strap or 12 ga galvanized wire"


@pytest.mark.parametrize(
    ("width", "height", "length", "strap", "count"),
    [
        # Standard Work Specifications 3.1601.3: strap 1/2 in x 18 ga or 12 ga wire, 10 ft at most
        ("20", "8", "120", STRAP_18, 1),
        ("20", "8", "121", STRAP_18, 2),
        ("20", "20", "20'", STRAP_18, 2),
        # trade article: at 5 ft, 1 in x 22 ga up to 144 in round, 20 ga up to 192 in
        ("24", "20", "120", "1 in x 22 ga strap", 2),
        ("40", "32", "61", "1 in x 22 ga strap", 2),
        ("48", "40", "60", "1 in x 20 ga strap", 1),
        ("60", "36", "60", "1 in x 20 ga strap", 1),
    ],
)
def test_hangers_by_published_spacing(
    width: str, height: str, length: str, strap: str, count: int
) -> None:
    found = needs(row("straight duct", {"width": width, "height": height, "length": length}))
    ((detail, line),) = [(key[1], line) for key, line in found.items() if key[0] == "hanger"]
    assert detail.endswith(strap)
    assert line.qty == count


def test_duct_beyond_the_table_is_to_be_designed() -> None:
    found = needs(row("straight duct", {"width": "60", "height": "40", "length": "40"}))
    line = found["hanging to be designed", "A1, 200 in round"]
    assert "have it designed" in line.why


@settings(max_examples=12, deadline=None)
@given(st.integers(min_value=1, max_value=32))
def test_hangers_are_never_farther_apart_than_the_spacing(feet: int) -> None:
    found = quantities(row("straight duct", {**DUCT, "length": f"{feet}'"}, gauge=22))
    (count,) = [qty for (what, _), qty in found.items() if what == "hanger"]
    assert feet / count <= 10
    assert count == 1 or feet / (count - 1) > 10
    assert count == math.ceil(feet / 10)


LINEAR = [
    ("straight duct", DUCT),
    ("return box", {"width": "19", "depth": "24", "height": "16"}),
    ("end cap", {"width": "20", "height": "8"}),
    ("access door", LAP),
    ("round pipe", {"diameter": "8", "length": "60"}),
]


@settings(max_examples=12, deadline=None)
@given(st.sampled_from(LINEAR), st.integers(1, 40))
def test_twice_the_fittings_take_twice_the_hardware(
    fitting: tuple[str, dict[str, str]], qty: int
) -> None:
    """Cartridges are bought whole, so they are no part of the law."""
    kind, cells = fitting
    once, twice = quantities(row(kind, cells, qty)), quantities(row(kind, cells, 2 * qty))
    assert once.keys() == twice.keys()
    for key, amount in once.items():
        if key[0] != "sealant cartridge":
            assert twice[key] == pytest.approx(2 * amount)


@pytest.mark.parametrize("seam", ["pittsburgh", "snap lock", "lap", "grooved", "standing"])
def test_every_seam_is_known_to_the_sealing_by_its_name_on_the_job(seam: str) -> None:
    """Names of two words have an underscore in the profile and a blank on the job list."""
    sealed = default().seams[seam.replace(" ", "_")].sealed
    plain = {"width": "12", "height": "8", "length": "40", "end_1": "raw", "end_2": "raw"}
    lines = needs(row("straight duct", {**plain, "seam": seam}))
    (why,) = (line.why for line in lines.values() if line.what == "sealant cartridge")
    assert ("0.0 ft of seams" not in why) is sealed
