"""Gauge tables held against published weights and the laws they obey."""

from fractions import Fraction

import pytest

from takeoff.errors import TakeoffError, UnknownGauge, UnknownMaterial
from takeoff.materials import MATERIALS, gauges, material, sheet

TABLE_DIGIT = Fraction(5, 10_000)  # half of the last digit a table prints, lb/ft2


def test_the_metals() -> None:
    assert MATERIALS == ("galvanized", "steel", "aluminium", "stainless")


@pytest.mark.parametrize(
    ("metal", "expected"),
    [
        ("galvanized", range(10, 33)),
        ("steel", range(10, 33)),
        ("aluminium", range(10, 33, 2)),
        ("stainless", range(10, 31, 2)),
    ],
)
def test_gauges_thick_to_thin(metal: str, expected: range) -> None:
    assert gauges(metal) == tuple(expected)
    thicknesses = [sheet(metal, gauge).thickness for gauge in gauges(metal)]
    assert thicknesses == sorted(thicknesses, reverse=True)
    assert len(set(thicknesses)) == len(thicknesses)


@pytest.mark.parametrize("metal", MATERIALS)
def test_every_line_has_a_source(metal: str) -> None:
    assert all(len(sheet(metal, gauge).source) > 10 for gauge in gauges(metal))


# Duct-standard appendix after ASTM A924/A653 and service-centre gauge charts, lb/ft2.
@pytest.mark.parametrize(
    ("gauge", "size", "pounds"),
    [
        (26, (48, 120), "36.24"),
        (24, (48, 120), "46.24"),
        (22, (48, 120), "56.24"),
        (20, (48, 120), "66.24"),
        (28, (48, 120), "31.24"),
        (30, (48, 120), "26.24"),
        (26, (36, 96), "21.74"),
        (26, (60, 120), "45.30"),
    ],
)
def test_weight_of_a_galvanized_sheet(gauge: int, size: tuple[int, int], pounds: str) -> None:
    # 48 x 120 in = 40 ft2, 40 x 0.906 = 36.24 lb; 36 x 96 = 24 ft2, 24 x 0.906 = 21.744 lb
    area = Fraction(size[0] * size[1], 144)
    assert round(area * sheet("galvanized", gauge).weight, 2) == Fraction(pounds)


def test_weight_of_a_plain_sheet() -> None:
    # 15 U.S.C. 206: 20 ga is 3/80 in and 24 oz/ft2; 36 x 96 in = 24 ft2, 24 x 1.5 = 36 lb
    assert sheet("steel", 20).thickness == Fraction(3, 80)
    assert 24 * sheet("steel", 20).weight == 36


def test_galvanized_24_gauge_of_a_textbook() -> None:
    # Longfield, Sheet Metal Drafting, p. 102: 1.156 lb/ft2
    assert sheet("galvanized", 24).weight == Fraction("1.156")


def test_steel_weighs_640_ounces_per_square_foot_and_inch() -> None:
    # Law of the table in 15 U.S.C. 206, every line
    for gauge in gauges("steel"):
        metal = sheet("steel", gauge)
        assert metal.weight * 16 == 640 * metal.thickness


def test_galvanized_is_steel_of_the_same_number_and_two_and_a_half_ounces() -> None:
    # Manufacturers' Standard chart (roofonline.com): add 0.156 lb/ft2; 2.5 oz from memory
    for gauge in gauges("galvanized"):
        difference = sheet("galvanized", gauge).weight - sheet("steel", gauge).weight
        assert abs(difference - Fraction("0.15625")) <= TABLE_DIGIT


# Manufacturers' Standard bare thickness, printed gauge chart, in
BARE = {10: "0.1345", 16: "0.0598", 18: "0.0478", 20: "0.0359", 22: "0.0299", 24: "0.0239",
        26: "0.0179", 28: "0.0149", 30: "0.0120"}  # fmt: skip


@pytest.mark.parametrize("gauge", BARE)
def test_galvanized_thickness_is_bare_sheet_and_its_coating(gauge: int) -> None:
    # Same chart: coating adds 0.0037 to 0.0038 in; bare sheet is 41.82 lb/ft2 per inch
    bare = Fraction(BARE[gauge])
    added = sheet("galvanized", gauge).thickness - bare
    assert Fraction("0.0037") <= added <= Fraction("0.0038")
    assert abs(bare * Fraction("41.82") - sheet("steel", gauge).weight) < Fraction("0.005")


def test_aluminium_follows_the_brown_and_sharpe_formula() -> None:
    # t = 0.005 x 92^((36 - n) / 39) in (from memory), to the four decimals printed
    for gauge in gauges("aluminium"):
        formula = 0.005 * 92 ** ((36 - gauge) / 39)
        assert abs(float(sheet("aluminium", gauge).thickness) - formula) <= 0.00005 + 1e-9


@pytest.mark.parametrize(
    ("gauge", "pounds"), [(26, "0.224"), (24, "0.284"), (22, "0.357"), (20, "0.452")]
)
def test_aluminium_weight(gauge: int, pounds: str) -> None:
    # 26 ga: 0.0159 x 144 x 0.098 = 0.2244; a printed chart gives 0.224. The others from the
    # four printed decimals: 0.0201, 0.0253 and 0.0320 x 14.112 (calculated)
    assert round(sheet("aluminium", gauge).weight, 3) == Fraction(pounds)


def test_stainless_follows_the_us_standard_gauge() -> None:
    # The chart cuts or rounds 22 ga .03125 to .0312, so one unit of the fourth decimal is allowed
    for gauge in gauges("stainless"):
        difference = sheet("stainless", gauge).thickness - sheet("steel", gauge).thickness
        assert abs(difference) < Fraction(1, 10_000)


def test_stainless_weight() -> None:
    # 0.290 lb/in3 (type 304, from memory) x 144 = 41.76 lb/ft2 per inch; 16 ga 1/16 in: 2.61
    assert sheet("stainless", 16).weight == Fraction("2.61")


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("galv", "galvanized"),
        ("Galvanised", "galvanized"),
        (" GALVANIZED  steel ", "galvanized"),
        ("black-iron", "steel"),
        ("aluminum", "aluminium"),
        ("SS", "stainless"),
    ],
)
def test_aliases(written: str, name: str) -> None:
    assert material(written) == name
    assert sheet(written, 20) == sheet(name, 20)


def test_unknown_material_names_the_nearest() -> None:
    with pytest.raises(UnknownMaterial, match=r'"galvinized".*Did you mean "galvanized"'):
        sheet("galvinized", 26)
    with pytest.raises(TakeoffError, match="Known: galvanized, steel, aluminium, stainless"):
        material("paper")


def test_unknown_gauge_names_those_there_are() -> None:
    with pytest.raises(UnknownGauge, match=r"aluminium has no gauge 25\. Gauges: 10, 12, .*32"):
        sheet("alum", 25)
