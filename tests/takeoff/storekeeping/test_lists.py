"""Lists in and out of the stock room, and which room is meant."""

import string
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.lengths import INCH, MILLIMETRE, Unit, parse
from takeoff.profile import default, loads
from takeoff.stockroom import KindKey, NewOffcut, Offcut, OffcutState
from takeoff.stockroom.exact import STEPS_PER_INCH
from takeoff.storekeeping.lists import exact_text, read_rack, read_stock, write_rack
from takeoff.storekeeping.which_room import VARIABLE, NoRoom, open_existing, place_of

lengths = st.integers(1, 600 * STEPS_PER_INCH).map(lambda n: Fraction(n, STEPS_PER_INCH))
units = st.sampled_from([INCH, MILLIMETRE])
words = st.text(string.printable.replace("\x0b", "").replace("\x0c", "") + "éß漢", max_size=20).map(
    lambda text: " ".join(text.split())
)


@given(lengths, units)
def test_a_length_reads_back_to_the_last_step(length: Fraction, unit: Unit) -> None:
    assert parse(exact_text(length, unit), unit) == length


@given(st.lists(st.tuples(lengths, lengths, words, words), max_size=5), units)
def test_a_rack_list_reads_back_as_it_was(
    pieces: list[tuple[Fraction, Fraction, str, str]], unit: Unit
) -> None:
    offcuts = [
        Offcut(f"R-{n:06d}", "galvanized", 26, *piece, OffcutState.ON_RACK)
        for n, piece in enumerate(pieces, 1)
    ]
    text = write_rack(offcuts, unit)
    if not offcuts:
        assert text.count("\n") == 1
        return
    listed = read_rack(text, unit, "rack.csv")
    assert listed.pieces == tuple(
        (offcut.label, NewOffcut("galvanized", 26, *piece))
        for offcut, piece in zip(offcuts, pieces, strict=True)
    )
    assert listed.rows == tuple(range(2, len(offcuts) + 2))


def test_a_row_of_several_is_several_pieces_of_that_row() -> None:
    text = "material,gauge,width,length,qty,label\n\ngalv,26,20,30,3,R-000007\n"
    listed = read_rack(text, INCH, "rack.csv")
    assert [label for label, _ in listed.pieces] == ["R-000007", "", ""]
    assert listed.rows == (3, 3, 3)


def test_a_blank_qty_keeps_the_count_and_a_blank_cost_the_price() -> None:
    text = "material,gauge,stock,width,length,cost,qty\ngalv,26,a,48,96,,\ngalv,26,b,48,96,3.5,4\n"
    (first, second) = read_stock(text, INCH, "stock.csv", ()).pieces
    assert (first.key, first.on_hand, first.price) == (KindKey("galvanized", 26, "a"), 0, None)
    assert (second.on_hand, str(second.price)) == (4, "3.5")
    again = read_stock(text, INCH, "stock.csv", (second,)).pieces
    assert again[1].on_hand == 4


def test_the_option_goes_before_the_environment_and_that_before_the_profile(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    mine = loads('[room]\nplace = "profile.db"')
    monkeypatch.delenv(VARIABLE, raising=False)
    assert place_of(None, default()) == ""
    assert place_of(None, mine) == "profile.db"
    monkeypatch.setenv(VARIABLE, "environment.db")
    assert place_of(None, mine) == "environment.db"
    assert place_of("option.db", mine) == "option.db"
    with pytest.raises(NoRoom, match="There is no stock room at"):
        open_existing(str(tmp_path / "absent.db"))
    assert not (tmp_path / "absent.db").exists()


def test_without_any_the_room_is_in_the_user_s_own_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    with pytest.raises(NoRoom, match="in your own data folder"):
        open_existing("")
