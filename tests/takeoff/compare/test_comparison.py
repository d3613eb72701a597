"""The comparison: choices, what each comes to, the rows beside the job as written."""

import csv
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from rich.console import Console

from takeoff.compare.chart import chart
from takeoff.compare.choices import (
    AS_WRITTEN,
    CannotChoose,
    Choice,
    NotAChoice,
    Supply,
    apply,
    choices,
    read_gauges,
    read_materials,
    read_sheets,
    sizes_in_stock,
)
from takeoff.compare.results import Comparison, compared
from takeoff.compare.table import table, verdict
from takeoff.compare.work import Figures, Outcome, Task, work_out
from takeoff.compare.writing import CHART, TABLE, CannotWriteComparison, check_free, write
from takeoff.jobs.job import Job
from takeoff.jobs.read_csv import read_csv
from takeoff.lengths import INCH, MILLIMETRE
from takeoff.prices import prices
from takeoff.profile import default
from takeoff.stock import loads, standard

JOB = read_csv(
    b"# job = Mill lane [red]\nmark,fitting,gauge,width,height,length\n"
    b"D1,duct,26,20,8,47\nD2,duct,24,16,8,47\n"
)
PRICES = "material,gauge,stock,width,length,cost\ngalv,24,4x8,48,96,50\ngalv,26,4x8,96,48,40\n"
STANDARD = Supply(standard(default()), None, {})
(SHEET_48X96,) = read_sheets("48 x 96", INCH)


def priced() -> Supply:
    return replace(STANDARD, prices={"a.csv": prices(PRICES, default(), "a.csv")})


def worked(choice: Choice, supply: Supply = STANDARD, job: Job = JOB) -> Outcome:
    return work_out(Task(choice, job, supply, default(), 0.1, 0))


def figures(cost: int, weight: int = 100) -> Figures:
    return Figures(Fraction(cost), Fraction(weight), 0.8, 3, Fraction(cost) * 9 / 10)


def comparison(*outcomes: Outcome, asked: int | None = None) -> Comparison:
    wanted = [each.choice for each in outcomes] + [Choice(gauge=9)] * ((asked or 0) > len(outcomes))
    return compared("Mill lane [red]", wanted, outcomes, (), "a table")


def printed(made: Comparison) -> str:
    console = Console(width=100, record=True, file=None, quiet=False)
    with console.capture() as told:
        console.print(table(made))
    return told.get()


def test_every_combination_after_the_job_as_written() -> None:
    sizes = read_sheets("48x96, 4' x 10'", INCH)
    found = choices(("aluminium",), (24, 26), sizes, priced())
    assert found[0] == AS_WRITTEN
    assert [each.name for each in found[1:3]] == [
        "aluminium, 24 ga, 48x96, a.csv",
        "aluminium, 24 ga, 48x120, a.csv",
    ]
    assert len(found) == 1 + 2 * 2
    assert choices((), (24, 24), (), STANDARD) == (AS_WRITTEN, Choice(gauge=24))


def test_what_the_options_say() -> None:
    assert read_gauges("24, 26,") == (24, 26)
    assert read_materials("galv,alum") == ("galvanized", "aluminium")
    (metric,) = read_sheets("1220x2440", MILLIMETRE)
    assert metric.name == "1220x2440"
    assert [each.name for each in sizes_in_stock(JOB, STANDARD.stock)] == [
        "36x96",
        "48x96",
        "48x120",
        "60x120",
    ]


@pytest.mark.parametrize("text", ["24.5", "-24", "heavy", "24;26", "٢٤"])
def test_what_is_no_gauge(text: str) -> None:
    with pytest.raises(NotAChoice, match="is not a gauge"):
        read_gauges(text)


@pytest.mark.parametrize("text", ["48", "48x96x3", "0x96", "48xlong", "48x9000"])
def test_what_is_no_sheet(text: str) -> None:
    with pytest.raises(NotAChoice, match="is not a sheet size"):
        read_sheets(text, INCH)


def test_a_choice_changes_every_row_and_keeps_only_its_sheets() -> None:
    job, stock = apply(Choice("aluminium", 24, SHEET_48X96), JOB, STANDARD, default())
    assert {(line.metal.material, line.metal.gauge) for line in job.lines} == {("aluminium", 24)}
    (item,) = stock.items
    # B & S 24 gauge is .0201 in, 0.284 lb/ft2: 32 ft2 at 3.20 a pound
    assert item.cost == pytest.approx(32 * 0.0201 * 144 * 0.098 * 3.20, abs=0.005)


def test_a_price_list_gives_the_cost_whichever_way_a_sheet_is_written() -> None:
    job, stock = apply(Choice(sheet=SHEET_48X96, prices="a.csv"), JOB, priced(), default())
    assert job.lines == JOB.lines
    assert sorted(item.cost for item in stock.items) == [40, 50]


@pytest.mark.parametrize(
    ("choice", "reason"),
    [
        (Choice("aluminium", 25), "aluminium has no gauge 25"),
        (Choice(gauge=22, prices="a.csv"), "a.csv has no sheet of galvanized 22 ga"),
        (Choice(sheet=read_sheets("36x96", INCH)[0], prices="a.csv"), "a.csv has no 36x96 sheet"),
    ],
)
def test_what_cannot_be_chosen_is_a_reason(choice: Choice, reason: str) -> None:
    with pytest.raises(CannotChoose, match=reason):
        apply(choice, JOB, priced(), default())
    assert worked(choice, priced()).reason.startswith(reason)
    assert worked(choice, priced()).figures is None


def test_a_stock_list_has_only_the_sizes_it_lists() -> None:
    listed = loads("material,gauge,stock,width,length\ngalv,26,a,48,96\n", default())
    supply = Supply(listed, "mine.csv", {})
    (large,) = read_sheets("60x120", INCH)
    assert worked(Choice(gauge=26, sheet=large), supply).reason == (
        "mine.csv has no 60x120 sheet of galvanized 26 ga"
    )


def test_a_blank_larger_than_every_sheet_is_a_reason() -> None:
    (small,) = read_sheets("20x20", INCH)
    reason = worked(Choice(sheet=small)).reason
    assert reason.startswith("D1: ")
    assert "larger than every sheet in stock" in reason
    assert reason.endswith(", and 1 more")


def test_stock_that_runs_out_is_a_reason() -> None:
    text = "material,gauge,stock,width,length,qty\ngalv,26,a,60,50,1\n"
    supply = Supply(loads(text, default()), "mine.csv", {})
    assert "1 blank has no sheet left" in worked(Choice(gauge=26), supply).reason


def test_figures_of_a_small_job_done_by_hand() -> None:
    # Each wrap: 2 x (20 + 8) and 2 x (16 + 8) with a 1 in pocket and a 1/4 in single edge: 57 1/4
    # and 49 1/4 wide; 47 long and 1/2 in of drive at both ends of two sides: 48. One 48 x 96 sheet
    # of each gauge: 50 + 40, and 32 ft2 x (1.156 + 0.906) lb/ft2 = 65.984 lb
    found = worked(Choice(sheet=SHEET_48X96, prices="a.csv"), priced())
    assert found.figures is not None
    assert (found.figures.cost, found.figures.sheets) == (90, 2)
    assert found.figures.weight == Fraction("65.984")
    blanks = Fraction("57.25") * 48 / 144 * Fraction("0.906")
    blanks += Fraction("49.25") * 48 / 144 * Fraction("1.156")
    assert found.figures.used == pytest.approx(float(blanks / Fraction("65.984")))
    assert found.figures.bound <= found.figures.cost


def test_a_gauge_lighter_than_the_code_table_is_named() -> None:
    assert worked(Choice(gauge=28)).too_light == ("D1", "D2")
    assert worked(AS_WRITTEN).too_light == ("D1",)  # 20 in asks for 24 ga: IMC 2015 Table 603.4


def test_savings_are_against_the_job_as_written() -> None:
    dear, cheap, none = Choice(gauge=22), Choice(gauge=26), Choice(gauge=99)
    made = comparison(
        Outcome(cheap, figures(70, 80), too_light=("D1",)),
        Outcome(none, None, "no such gauge"),
        Outcome(AS_WRITTEN, figures(100)),
        Outcome(dear, figures(130, 150)),
    )
    assert [row.saves for row in made.rows] == [30, None, 0, -30]
    assert [row.saves_weight for row in made.rows] == [20, None, 0, -50]
    assert made.cheapest is made.as_written, "the cheaper one is too light"
    assert made.gap == pytest.approx(1 / 9)
    told = printed(made)
    assert "Mill lane [red]" in told
    assert "Cheapest that the code table does not find too light: as written, 100.00." in told
    assert "Cheapest: " not in told
    assert "it saves" not in told
    assert "1  lighter than the code table allows: D1" in told
    assert "2  no such gauge" in told
    assert "-30.00" in told
    assert "not finished" not in told


def test_a_choice_that_is_too_light_is_never_named_as_the_saving() -> None:
    light = Outcome(Choice(gauge=28), figures(60, 70), too_light=("D1",))
    usual = Outcome(AS_WRITTEN, figures(100))
    sound = Outcome(Choice(gauge=24), figures(90, 85))
    first, *_ = verdict(comparison(light, usual, sound))
    assert first.endswith("does not find too light: 24 ga, 90.00; it saves 10.00 and 15.0 lb.")
    # the job as written is too light itself: what passes costs more
    written = Outcome(AS_WRITTEN, figures(80), too_light=("D1",))
    first, *_ = verdict(comparison(light, written, sound))
    assert first.endswith("too light: 24 ga, 90.00, 10.00 more than the job as written.")
    first, *_ = verdict(comparison(light, written))
    assert first == "The code table finds all of them too light, so none is named as the cheapest."
    # where nothing is too light nothing is said of it
    first, *_ = verdict(comparison(usual, sound))
    assert first == "Cheapest: 24 ga, 90.00; it saves 10.00 and 15.0 lb."


def test_without_the_job_as_written_nothing_is_called_a_saving() -> None:
    made = comparison(Outcome(Choice(gauge=26), figures(70)), asked=2)
    assert made.rows[0].saves is None
    assert "1 of 2 choices were not finished." in printed(made)


def test_the_chart_has_a_bar_and_a_number_for_each_choice() -> None:
    made = comparison(
        Outcome(AS_WRITTEN, figures(100)),
        Outcome(Choice(gauge=28), figures(70), too_light=("D1",)),
        Outcome(Choice(gauge=99), None, "no such gauge"),
    )
    figure = chart(made)
    assert [ax.get_title(loc="left") for ax in figure.axes] == [
        "Cost",
        "Weight, lb",
        "Used, %",
        "Sheets",
    ]
    cost = figure.axes[0]
    assert [bar.get_width() for bar in cost.patches] == [100, 70, 0]
    greys = [bar.get_facecolor()[:3] for bar in cost.patches]
    assert all(red == green == blue for red, green, blue in greys)
    assert [bar.get_hatch() or "" for bar in cost.patches] == ["", "////", ""]
    assert {"100.00", "70.00", " no such gauge"} <= {text.get_text() for text in cost.texts}


def test_the_files(tmp_path: Path) -> None:
    out = tmp_path / "a" / "b"
    made = comparison(
        Outcome(AS_WRITTEN, figures(1100)), Outcome(Choice(prices="=a.csv"), None, "none")
    )
    check_free(out, force=False)
    assert [file.name for file in write(made, out)] == [TABLE, CHART]
    assert {file.name for file in out.iterdir()} == {TABLE, CHART}
    rows = list(csv.DictReader((out / TABLE).read_text(encoding="utf-8").splitlines()))
    assert (rows[0]["cost"], rows[0]["saves"], rows[0]["used"]) == ("1100.00", "0.00", "0.8000")
    assert (rows[1]["prices"], rows[1]["cost"], rows[1]["note"]) == ("'=a.csv", "", "none")
    assert (out / CHART).read_bytes().startswith(b"\x89PNG")
    with pytest.raises(CannotWriteComparison, match="--force"):
        check_free(out, force=False)
    check_free(out, force=True)
    with pytest.raises(CannotWriteComparison, match="is a file"):
        check_free(out / TABLE, force=True)
