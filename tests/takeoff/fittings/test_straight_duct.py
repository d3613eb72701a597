"""Straight duct against published and hand-worked sizes."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.fittings import CannotMake
from takeoff.pattern.allowances import notch_size
from takeoff.pattern.facets import NotchKind
from takeoff.pattern.fold import worst_miss
from takeoff.pattern.mating import gap
from takeoff.pattern.outline import outline
from tests.takeoff.fittings.making import card, made, shop, sizes

# achrnews.com/articles/90151 (trade magazine, 2002): pocket 15/16 and single edge 1/4, no ends
PUBLISHED = '[seams.pittsburgh]\npocket = "15/16"'
PLAIN = {"end_1": "raw", "end_2": "raw"}


@pytest.mark.parametrize(
    ("width", "height", "length", "blank"),
    [
        (20, 8, 48, "29 3/16"),  # width and height 28 in together: listed as 29-3/16 x 48
        (14, 8, 24, "23 3/16"),  # 22 in together: listed as 23-3/16 x 24
    ],
)
def test_two_l_blanks_as_published(width: int, height: int, length: int, blank: str) -> None:
    result = made(
        "straight duct",
        PUBLISHED,
        width=width,
        height=height,
        length=length,
        arrangement="two L",
        **PLAIN,
    )
    whole, part = blank.split()
    assert sizes(result.pieces) == {"L": (int(whole) + Fraction(part), length)}
    assert len(result.pieces) == 2


def test_one_piece_is_the_girth_with_pocket_and_single_edge() -> None:
    # 1/4 + 2 x (20 + 8) + 1 = 57 1/4; drive edges 1/2 at both ends: 47 + 1 = 48
    result = made("straight duct", width=20, height=8, length=47)
    assert sizes(result.pieces) == {"wrap": (57 + Fraction(1, 4), 48)}


def test_drive_edges_go_on_the_short_sides() -> None:
    """Drives on the two short sides, the long ones stay raw for the slip (training articles)."""
    (wrap,) = made("straight duct", width=20, height=8, length=47).pieces
    driven = {h.parent for h in wrap.hinges if wrap.facet(h.child).label == "drive"}
    assert driven == {"left", "right"}
    steps = [notch_size(n) for n in wrap.notches if n.kind is NotchKind.STEP]
    assert sorted(steps) == sorted(
        [(20, Fraction(1, 2))] * 2 + [(20 + Fraction(1, 4), Fraction(1, 2))] * 2
    )


def test_a_long_run_is_cut_into_joints_and_says_so() -> None:
    # a joint of 48 in flat less 1/2 for each drive edge leaves 47: 118 = 47 + 47 + 24
    result = made("straight duct", width=14, height=10, length=118)
    assert result.notes[0] == "The run of 118 in is cut into 3 joints: 47, 47, 24."
    assert [outline(piece).length for piece in result.pieces] == [48, 48, 25]


def test_a_sliver_of_a_joint_is_shared_with_the_one_before() -> None:
    # 47 + 47 + 2: the last two are shared, (47 + 2) / 2 = 24 1/2
    result = made("straight duct", width=14, height=10, length=96)
    assert "47, 24 1/2, 24 1/2" in result.notes[0]


@pytest.mark.parametrize(
    ("sheets", "pieces", "name"),
    [
        (((60, 120),), 1, "wrap"),
        (((48, 60),), 2, "L"),
        (((48, 50),), 4, "width side"),
    ],
)
def test_the_fewest_pieces_that_the_sheets_can_take(
    sheets: tuple[tuple[int, int], ...], pieces: int, name: str
) -> None:
    # girth 2 x (30 + 20) = 100: one piece 101 1/4, an L 51 1/4, a U 72, a side 30 1/2
    result = card("straight duct", width=30, height=20, length=47).make(shop(sheets=sheets))
    assert len(result.pieces) == pieces
    assert result.pieces[0].name == name
    assert bool(result.notes) == (pieces > 1)


def test_a_brake_too_short_for_the_joint_is_named() -> None:
    with pytest.raises(CannotMake, match="the brake takes 36 in"):
        card("straight duct", width=20, height=8, length=47, arrangement="one piece").make(
            shop("[brake]\nlength = 36")
        )


def test_duct_larger_than_every_sheet_says_what_to_do() -> None:
    with pytest.raises(CannotMake, match="larger than every sheet") as refusal:
        card("straight duct", width=130, height=20, length=47).make(shop())
    assert "Stock a larger sheet" in refusal.value.allowed


def test_a_flange_wider_than_the_opening_is_refused() -> None:
    with pytest.raises(CannotMake, match="wider than the opening"):
        made("straight duct", width=20, height=2, length=40, end_1="flange in", end_2="raw")


sixteenths = st.integers(4 * 16, 28 * 16).map(lambda n: Fraction(n, 16))
END = st.sampled_from(["raw", "hem", "slip and drive", "flange out", "flange in", "drive"])


@settings(max_examples=40, deadline=None)
@given(
    width=sixteenths,
    height=sixteenths,
    length=sixteenths,
    arrangement=st.sampled_from(["one piece", "two l", "u and side", "four sides"]),
    seam=st.sampled_from(["pittsburgh", "snap lock", "lap", "grooved", "standing"]),
    ends=st.tuples(END, END),
)
def test_duct_folds_square_and_closes(
    width: Fraction,
    height: Fraction,
    length: Fraction,
    arrangement: str,
    seam: str,
    ends: tuple[str, str],
) -> None:
    wide = shop("[brake]\nlength = 400\n[joint]\nlength = 60", sheets=((400, 400),))
    result = card(
        "straight duct",
        width=width,
        height=height,
        length=length,
        arrangement=arrangement,
        seam=seam,
        end_1=ends[0],
        end_2=ends[1],
    ).make(wide)
    assert all(worst_miss(piece) < 1e-9 for piece in result.pieces)
    assert all(gap(joint, result.pieces) < 1e-9 for joint in result.seams)
    # every corner of the duct is a bend or a seam, once
    bends = sum(1 for p in result.pieces for h in p.hinges if h.child in p.finished)
    assert bends + len(result.seams) == 4
