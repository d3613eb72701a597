"""Rows to a job: what is read, and every fault with its place, value and what is allowed."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.errors import JobFaults
from takeoff.fittings import families
from takeoff.jobs.columns import FIXED, key, names
from takeoff.jobs.job import Job
from takeoff.jobs.refusals import MOST_LETTERS
from takeoff.jobs.rows import read_rows
from takeoff.lengths import INCH, MILLIMETRE
from takeoff.materials import sheet

from .lists import DUCT, HEADING, faults, lines, read

EVERY_COLUMN = [*names().values()]


def test_a_row_is_read_as_written() -> None:
    job = read(
        HEADING + 'RB1,Return Box,2,alum,24 ga,"by the stairs, low",19,24,16,,,,front 14 x 12,\n'
    )
    (line,) = job.lines
    assert (line.row, line.mark, line.qty, line.note) == (2, "RB1", 2, "by the stairs, low")
    assert line.metal == sheet("aluminium", 24)
    assert line.fitting.kind == "return box"
    assert line.fitting.width == 19  # type: ignore[attr-defined]
    assert line.fitting.openings[0].height == 12  # type: ignore[attr-defined]


def test_blanks_mean_one_of_galvanized() -> None:
    job = read(HEADING + DUCT)
    assert job.lines[0].qty == 1
    assert job.lines[0].metal == sheet("galvanized", 26)
    assert job.assumed == (
        "Numbers without a unit are inches: the list has no line # units.",
        "qty is blank in every row: one of each.",
        "material is blank in every row: galvanized.",
    )


def test_what_is_given_is_not_assumed() -> None:
    job = read(
        "# units = in\n"
        + HEADING
        + "D1,straight duct,1,galv,26,,20,,8,47,,,,\n"
        + DUCT.replace("D1", "D2")
    )
    assert job.assumed == (
        "qty is blank in row 4: one of each.",
        "material is blank in row 4: galvanized.",
    )


def test_lines_at_the_top_set_name_and_units() -> None:
    job = read("# job = Elm Street, back\n#units=MM\n# measured on Monday\n\n" + HEADING + DUCT)
    assert (job.name, job.unit) == ("Elm Street, back", MILLIMETRE)
    assert job.lines[0].row == 6
    assert job.lines[0].fitting.width == 20 * Fraction(5, 127)  # type: ignore[attr-defined]


def test_without_them_the_file_names_the_job_and_the_caller_the_unit() -> None:
    table = [line.split(",") for line in (HEADING + DUCT).splitlines()]
    assert read(HEADING + DUCT).name == "trial"
    assert read(HEADING + DUCT).unit == INCH
    assert read_rows(table, unit=MILLIMETRE).unit == MILLIMETRE
    assert read_rows([["# units = in"], *table], unit=MILLIMETRE).unit == INCH


def test_a_cell_may_be_in_another_unit_than_its_job() -> None:
    (line,) = read("# units = mm\n" + HEADING + 'D1,duct,,,26,,"1\' 8""",,203,47 in,,,,\n').lines
    assert line.fitting.width == 20  # type: ignore[attr-defined]
    assert line.fitting.length == 47  # type: ignore[attr-defined]
    assert line.fitting.height == 203 * Fraction(5, 127)  # type: ignore[attr-defined]


@pytest.mark.parametrize("title", ["end_1", "End 1", "END-1", "end1", " End_1 "])
def test_spaces_case_and_underscores_of_a_title_do_not_matter(title: str) -> None:
    (line,) = read(f"Mark,FITTING,Gauge,Width,height,length,{title}\nD1,duct,26,9,9,9,hem\n").lines
    assert line.fitting.end_1 == "hem"  # type: ignore[attr-defined]


def test_blank_rows_and_columns_do_not_matter_and_count() -> None:
    (fault,) = faults("\n,,\n\n" + HEADING + "\n,,,\n" + DUCT + "\n" + DUCT)
    assert fault.row == 9
    assert "row 7" in fault.problem


REFUSED = [
    ("straigth duct,,,26,,20,,8,47,,,,", 'column "fitting": straigth duct is not a fitting known '
     'here. Did you mean "straight duct"'),
    (",,,26,,20,,8,47,,,,", 'column "fitting": a blank is no fitting.'),
    ("duct,,,26,,,,8,47,,,,", 'column "width": a blank will not do: straight duct needs it. Give '
     "more than 0, up to 600 in."),
    ("duct,,,26,,0,,8,47,,,,", 'column "width": 0 is not more than 0. Give more than 0, up to 600 '
     "in."),
    ("duct,,,26,,-3,,8,47,,,,", 'column "width": -3 is not a length. It is below 0.'),
    ("duct,,,26,,601,,8,47,,,,", 'column "width": 601 is more than 600 in. Give more than 0, up to '
     "600 in."),
    ("duct,,,26,,wide,,8,47,,,,", 'column "width": wide is not a length. Write it as 17 1/2'),
    ("duct,,,26,,171/2,,8,47,,,,", 'column "width": 171/2 is not a length. 171/2 is not a part of '
     "an inch."),
    ("duct,,,26,,=A1*2,,8,47,,,,", 'column "width": =A1*2 is a formula, and formulas are not '
     "worked out here. Write down what it comes to."),
    ("duct,,,26,,'=A1*2,,8,47,,,,", 'column "width": =A1*2 is a formula'),
    ("duct,=1,,26,,9,,8,47,,,,", 'column "qty": =1 is a formula'),
    ("duct,,,26,,9,5,8,47,,,,", 'column "depth": 5 is given, but straight duct has no depth. Take '
     "it out. Fittings that have it: box, "),
    ("duct,0,,26,,9,,8,47,,,,", 'column "qty": 0 is not a whole number from 1 to 10000.'),
    ("duct,1.5,,26,,9,,8,47,,,,", 'column "qty": 1.5 is not a whole number'),
    ("duct,-1,,26,,9,,8,47,,,,", 'column "qty": -1 is not a whole number'),
    ("duct,two,,26,,9,,8,47,,,,", 'column "qty": two is not a whole number'),
    ("duct,99999,,26,,9,,8,47,,,,", 'column "qty": 99999 is not a whole number from 1 to 10000'),
    ("duct,,galvo,26,,9,,8,47,,,,", 'column "material": galvo is not a metal known here. Known: '
     "galvanized"),
    ("duct,,alum,25,,9,,8,47,,,,", 'column "gauge": 25 is not a gauge of aluminium. Give one '),
    ("duct,,,,,9,,8,47,,,,", 'column "gauge": a blank is not a gauge of galvanized.'),
    ("duct,,,heavy,,9,,8,47,,,,", 'column "gauge": heavy is not a gauge of galvanized.'),
    ("box,,,26,,9,9,9,,,,front 9 by 9,", 'column "openings": front 9 by 9 is refused. '
     '"front 9 by 9" is not an opening. Write it as'),
    ("box,,,26,,9,9,9,,,frunt,,", 'column "open": frunt is refused. "frunt" is not a face. Did you '
     'mean "front"?'),
    ("duct,,,26,,9,,8,47,,,,,over", "over stands in a column without a title. Take it out"),
]  # fmt: skip


@pytest.mark.parametrize(("row", "line"), REFUSED)
def test_refused_rows(row: str, line: str) -> None:
    found = lines(f"{HEADING}{DUCT}D2,{row}\n")
    assert len(found) == 1
    assert found[0].startswith("row 3")
    assert line in found[0]


def test_marks() -> None:
    assert lines(HEADING + DUCT + DUCT.lower()) == [
        'row 3, column "mark": d1 is the mark of row 2 too. Give each row its own.'
    ]
    (missing,) = lines(HEADING + DUCT.replace("D1", " "))
    assert missing.startswith('row 2, column "mark": a blank is no mark.')
    (long,) = lines(HEADING + DUCT.replace("D1", "D" * 41))
    assert "is longer than 40 letters" in long


def test_all_faults_of_all_rows_at_once_from_left_to_right() -> None:
    found = faults(
        HEADING + ",duct,x,paper,99,,0,1,bla,,,,,\nD2,dukt,,,,,,,,,,,,\nD3,box,,,26,,,,,,,,,\n"
    )
    assert [(fault.row, fault.column) for fault in found] == [
        *((2, each) for each in ("mark", "qty", "material", "width", "depth", "height", "length")),
        *((3, each) for each in ("fitting", "gauge")),
        *((4, each) for each in ("width", "depth", "height")),
    ]


def test_limits_and_values_are_told_in_the_unit_of_the_job() -> None:
    found = lines("# units = mm\n" + HEADING + "D1,duct,,,26,,16000,,0,,,,,\n")
    assert found == [
        'row 3, column "width": 16000 is more than 15240 mm. Give more than 0, up to 15240 mm.',
        'row 3, column "height": 0 is not more than 0. Give more than 0, up to 15240 mm.',
        'row 3, column "length": a blank will not do: straight duct needs it. Give more than 0, up '
        "to 15240 mm.",
    ]


def test_a_fault_names_the_column_as_it_is_titled() -> None:
    (fault,) = faults("Mark,Fitting,Gauge,WIDTH,Height,Length\nD1,duct,26,no,9,9\n")
    assert fault.column == "WIDTH"


def test_headings() -> None:
    found = lines("mark,fitting,guage,wdth,width,Width,note\nD1,duct,26,1,1,1,\n")
    assert len(found) == 4
    for line, told in zip(
        found,
        (
            'row 1: guage is not a column that any fitting has. Did you mean "gauge"',
            'row 1: wdth is not a column that any fitting has. Did you mean "width"',
            "row 1: Width is there twice. Keep one column of the name.",
            "row 1: gauge is not among the columns. Add the column.",
        ),
        strict=True,
    ):
        assert line.startswith(told)
    (fault,) = lines("D1,duct,26,20,8,47\n")
    assert fault.startswith("row 1: D1 does not begin a heading. Name the columns there: mark,")


def test_rows_are_read_below_a_title_that_is_not_known() -> None:
    found = faults("mark,fitting,gauge,colour\nD1,dukt,26,red\n")
    assert [(fault.row, fault.value) for fault in found] == [(1, "colour"), (2, "dukt")]


def test_settings() -> None:
    assert lines("# unit = mm\n# units = cm\n# job = a\n# job = b\n" + HEADING + DUCT) == [
        'row 1: unit is not a setting of a job. Did you mean "units"?',
        'row 2, column "units": cm is not a unit for a job. Give in or mm.',
        "row 4: job is set twice. Keep one line of the name.",
    ]


@pytest.mark.parametrize("text", ["", "\n\n", " , ,\n", "# units = mm\n"])
def test_an_empty_list(text: str) -> None:
    (line,) = lines(text)
    assert "the job list cannot be read: it is empty" in line


def test_a_heading_alone() -> None:
    assert lines(HEADING) == [
        "row 1: the job list has no fitting below its heading. Add a row for each fitting."
    ]


def test_a_long_cell() -> None:
    row = DUCT.replace(",26,,", f",26,{'x' * (MOST_LETTERS + 1)},")
    assert "is longer than 500 letters" in lines(HEADING + row)[0]


def test_formulas_are_kept_as_text_in_marks_and_notes() -> None:
    (line,) = read(HEADING + '=D1,duct,,,26,"=HYPERLINK(""x"")",20,,8,47,,,,\n').lines
    assert (line.mark, line.note) == ("=D1", '=HYPERLINK("x")')


def test_no_field_of_a_fitting_hides_a_fixed_column_or_another_field() -> None:
    for kind, family in families().items():
        keys = [key(name) for name in family.model_fields]
        assert len(set(keys)) == len(keys), kind
        assert not set(keys) & set(FIXED), f"{kind}: a field has the name of a fixed column"


@given(
    st.lists(st.sampled_from(EVERY_COLUMN), unique=True),
    st.lists(st.lists(st.text(max_size=12), max_size=8), max_size=4),
)
def test_random_text_gives_a_job_or_its_faults(titles: list[str], rows: list[list[str]]) -> None:
    told([["mark", "fitting", "gauge", *titles], *rows])


@given(st.data())
def test_random_cells_in_rows_that_are_almost_right(data: st.DataObject) -> None:
    """Each column gets now a value that some fitting's example has there, now anything."""
    cells = st.one_of(
        st.sampled_from(
            sorted(
                {
                    cell
                    for each in families().values()
                    for row in each.examples
                    for cell in row.values()
                }
            )
        ),
        st.text(max_size=8),
        st.integers(),
        st.floats(),
        st.dates(),
        st.none(),
        st.booleans(),
        st.sampled_from(
            ["=A1", "'=A1", "1/2", "17 1/2", "445mm", "1e999", "9" * 41, "none", ";", ":", "/"]
        ),
    )
    kind = data.draw(st.sampled_from([*families()]))
    columns = list(families()[kind].model_fields)
    row = [
        "D1",
        kind,
        26,
        *data.draw(st.lists(cells, min_size=len(columns), max_size=len(columns))),
    ]
    told([["mark", "fitting", "gauge", *columns], row])


def told(table: list[list[object]]) -> Job | None:
    """The job, or None where there are faults, and those can be told."""
    try:
        return read_rows(table)
    except JobFaults as error:
        assert all(str(fault).strip() and "\n" not in str(fault) for fault in error.faults)
        return None
