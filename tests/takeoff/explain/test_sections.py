"""The explanation of a row, held against the numbers it explains."""

from takeoff.explain.sections import Section, explain
from takeoff.lengths import INCH
from takeoff.profile import default, loads
from tests.takeoff.bill.jobs import row
from tests.takeoff.fittings.making import STANDARD_SHEETS

BOX = {"width": "17 1/2", "depth": "24", "height": "18"}


def explained(profile: str = "") -> dict[str, Section]:
    shop = loads(profile) if profile else default()
    sections = explain(row("return box", BOX), shop, INCH, STANDARD_SHEETS)
    return {section.title: section for section in sections}


def test_sums_and_weights() -> None:
    wrap = explained()["Blank A1 wrap, 1 of it"].lines
    assert wrap[0] == "width 2 1/2 + 18 + 17 1/2 + 18 + 2 1/2 = 58 1/2 in"
    assert "lip 1/2 + flange 2" in wrap[1]
    # 24 deep and two pockets of 1 in; 58.5 x 26 = 1521 in2 = 10.5625 ft2, at 1.156 lb/ft2 12.21
    assert wrap[2] == "length 1 + 24 + 1 = 26 in"
    (weight,) = [line for line in wrap if "lb/ft2" in line]
    assert "= 1521.00 in2 / 144 = 10.562 ft2 x 1.156 lb/ft2 = 12.21 lb" in weight


def test_bends_are_numbered_with_their_reason() -> None:
    bends = [
        line.strip()
        for line in explained()["Blank A1 wrap, 1 of it"].lines
        if line.startswith("  ") and line.strip()[0].isdigit()
    ]
    assert len(bends) == 6
    assert bends[0].startswith("1. lip 45° up, 1/2 from the left, anywhere on the brake: ")


def test_settings_tell_whose_they_are() -> None:
    title = "Settings that were read for it"
    assert "seams.pittsburgh.single = 1/4 in: achrnews.com/articles/87804 and 90151" in (
        explained()[title].lines
    )
    own = explained('[seams.pittsburgh]\nsingle = "5/16"')[title].lines
    assert "seams.pittsburgh.single = 5/16 in: your profile; the default is 1/4" in own


def test_hardware_and_time_of_the_row() -> None:
    sections = explained()
    hardware = sections["Hardware of this row by itself"].lines
    assert any(line.startswith("8 each rivet, corners of flanges: 0.32") for line in hardware)
    time = sections["Shop time of this row"].lines
    assert "rivet set: 8 x 0.5 min = 4.0 min (rates.minutes.rivet)" in time
    assert "65.00" in time[-1]
    unknown = explained('[rates]\nper_hour = ""\n[rates.minutes]\nrivet = ""')
    time = unknown["Shop time of this row"].lines
    assert "rivet set: 8 x not known (rates.minutes.rivet)" in time
    assert "65.00" not in time[-1]
