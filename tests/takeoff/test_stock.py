"""The stock list: what is read, what is priced, what is refused."""

from fractions import Fraction
from pathlib import Path

import pytest

from takeoff.errors import Fault, StockFault, UnknownMaterial
from takeoff.materials import MATERIALS, gauges
from takeoff.profile import default
from takeoff.profile import loads as profile_from
from takeoff.stock import StockItem, StockList, load, loads, price, standard

HEADINGS = "material,gauge,stock,width,length,cost,qty\n"


def read(rows: str) -> StockList:
    return loads(HEADINGS + rows, default(), "rack.csv")


def faults(text: str) -> tuple[Fault, ...]:
    with pytest.raises(StockFault) as caught:
        loads(text, default(), "rack.csv")
    assert str(caught.value).startswith("rack.csv: ")
    return caught.value.faults


def test_standard_sheets() -> None:
    # Sheet supplier's size list: 48x96, 48x120; trade articles on duct shops: 48x120, 60x120;
    # 36x96 from memory
    sheets = standard(default()).for_group("galv", 26)
    assert [(item.width, item.length) for item in sheets] == [
        (36, 96),
        (48, 96),
        (48, 120),
        (60, 120),
    ]
    assert all(item.qty is None and item.source for item in sheets)


def test_standard_sheets_come_in_every_metal_and_gauge() -> None:
    stock = standard(default())
    for metal in MATERIALS:
        for gauge in gauges(metal):
            assert len(stock.for_group(metal, gauge)) == 4
    assert load(None, default()) == stock


def test_weight_and_price_of_a_sheet() -> None:
    # 26 ga galvanized 48 x 120: 40 ft2 x 0.906 lb/ft2 (gauge table after ASTM A924/A653) = 36.24
    sheet = standard(default()).for_group("galvanized", 26)[2]
    assert sheet.area == 40
    assert sheet.weight == Fraction("36.24")
    # at the placeholder of 1.10 a pound: 36.24 x 1.10 = 39.864
    assert sheet.cost == 39.86
    dearer = profile_from("[prices.per_lb]\ngalvanized = 2.0")
    assert price("galv", 26, Fraction(48), Fraction(120), dearer) == 72.48


@pytest.mark.parametrize("odd", ["\x1b[31m", "\x07", "\x9b", "\u202e"])
def test_what_would_act_on_a_screen_is_refused_with_row_and_column(odd: str) -> None:
    (fault,) = faults(f"{HEADINGS}galv,26,4 x 8,48,96,,\ngalv,26,4{odd} x 10,48,120,,\n")
    assert (fault.row, fault.column) == (3, "stock")
    assert fault.problem == "has a character in it that does not print"
    assert odd[0] not in fault.value
    # 17<bell>1/2 is not read as some other length
    (fault,) = faults(f"{HEADINGS}galv,26,narrow,17{odd}1/2,96,,\n")
    assert (fault.row, fault.column) == (2, "width")
    # what else is wrong in the row is told with it
    found = faults(f"{HEADINGS}galv,26,4{odd} x 10,0,120,,\n")
    assert [fault.column for fault in found] == ["stock", "width"]


def test_a_row_is_read_as_written() -> None:
    assert read("galv,26,4x8,4',96,41.50,12\n").items == (
        StockItem("galvanized", 26, "4x8", Fraction(48), Fraction(96), 41.5, 12, "rack.csv"),
    )


def test_blanks_mean_priced_by_weight_and_as_many_as_needed() -> None:
    (item,) = read(" Alum , 20 , offcut , 17 1/2 , 1' 11\" , , \n").items
    # 17.5 x 23 / 144 ft2 x 0.0320 x 144 x 0.098 lb/ft2 x 3.20 a pound = 4.04
    assert (item.cost, item.qty) == (4.04, None)


def test_columns_go_by_their_names_and_blank_rows_count() -> None:
    text = "\nGauge,Material,Length,Width,Stock\n\n26,galv,96,48,4x8\n,,,,\n24,galv,96,0,4x8\n"
    (fault,) = faults(text)
    assert (fault.row, fault.column) == (6, "width")


def test_sides_without_a_unit_are_in_the_unit_of_the_profile() -> None:
    metric = profile_from('units = "mm"')
    (item,) = loads(HEADINGS + "galv,26,m,1250,2500 mm,1,\n", metric).items
    assert (item.width, item.length) == (1250 * Fraction(5, 127), 2500 * Fraction(5, 127))


def test_sheets_of_a_group() -> None:
    stock = read("galv,26,a,48,96,1,\ngalv,24,a,48,96,1,\nsteel,26,a,48,96,1,\ngalv,26,b,9,9,1,0\n")
    assert [item.name for item in stock.for_group("Galvanised", 26)] == ["a"]
    assert stock.for_group("aluminum", 26) == ()
    with pytest.raises(UnknownMaterial):
        stock.for_group("paper", 26)


@pytest.mark.parametrize(
    ("row", "line"),
    [
        ("galvanised tin,26,a,1,1,1,1", 'column "material": galvanised tin is not a metal known'),
        (",26,a,1,1,1,1", 'column "material": a blank is not a metal known here. Known: galv'),
        ("galv,x,a,1,1,1,1", 'column "gauge": x is not a whole number.'),
        ("alum,25,a,1,1,1,1", 'column "gauge": 25 is not a gauge of aluminium. Give one of 10, 12'),
        ("galv,26,,1,1,1,1", 'column "stock": a blank is too short.'),
        ("galv,26,a,0,1,1,1", 'column "width": 0 is not more than 0. Give more than 0, up to 600'),
        ("galv,26,a,1,601,1,1", 'column "length": 601 is more than 600 in.'),
        ("galv,26,a,1,,1,1", 'column "length": a blank is not a length. Write it as 17 1/2'),
        ("galv,26,a,1,=A1,1,1", 'column "length": =A1 is not a length.'),
        ("galv,26,a,1,1,-1,1", 'column "cost": -1 is less than 0. Give 0 or more.'),
        ("galv,26,a,1,1,$4,1", 'column "cost": $4 is not a number.'),
        ("galv,26,a,1,1,nan,1", 'column "cost": nan is not a number.'),
        ("galv,26,a,1,1,1,1.5", 'column "qty": 1.5 is not a whole number.'),
        ("galv,26,a,1,1,1,-1", 'column "qty": -1 is less than 0.'),
        ("galv,26,a,1,1,1,1,more", "more is beyond the last column."),
    ],
)
def test_refused_cells(row: str, line: str) -> None:
    (fault,) = faults(HEADINGS + "galv,26,good,48,96,1,1\n" + row + "\n")
    assert fault.row == 3
    assert line in str(fault)


def test_all_faults_at_once() -> None:
    found = faults(HEADINGS + "galvo,x,,0,abc,-1,y\ngalv,33,a,1,1,,\n")
    assert [(fault.row, fault.column) for fault in found] == [
        *((2, column) for column in HEADINGS.strip().split(",")),
        (3, "gauge"),
    ]


def test_the_same_sheet_twice() -> None:
    (fault,) = faults(HEADINGS + "galv,26,a,1,1,1,1\ngalvanized,26,a,2,2,1,1\n")
    assert (fault.row, fault.column) == (3, "stock")
    assert "row 2" in fault.problem


def test_headings() -> None:
    found = faults("material,gage,stock,width,length,width\ngalv,26,a,1,1,1\n")
    assert [str(fault) for fault in found] == [
        'row 1: gage is not a column here. Did you mean "gauge"?',
        "row 1: width is there twice. Keep one column of the name.",
        "row 1: gauge is not among the columns. Add the column.",
    ]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "no rows"),
        (" \n,,\n", "no rows"),
        (HEADINGS, "no rows"),
        (HEADINGS + 'galv,26,"a\n', "not CSV"),
    ],
)
def test_no_list_at_all(text: str, reason: str) -> None:
    (fault,) = faults(text)
    assert reason in fault.problem
    assert "material, gauge, stock, width, length, cost, qty" in fault.allowed


def test_files(tmp_path: Path) -> None:
    path = tmp_path / "rack.csv"
    with pytest.raises(StockFault, match=r"rack\.csv: .*No such file"):
        load(path, default())
    path.write_bytes((HEADINGS + "galv,26,caf\xe9,1,1,1,1\n").encode("latin-1"))
    with pytest.raises(StockFault, match=r"rack\.csv: .*not UTF-8"):
        load(path, default())
    path.write_bytes(b"\xef\xbb\xbf" + (HEADINGS + "galv,26,a,1,1,1,1\r\n").encode())
    assert load(path, default()).items[0].name == "a"
