"""Solved jobs for the tests of bill, drawing and papers."""

from collections.abc import Callable
from functools import cache

from takeoff.blanks import make_job
from takeoff.fittings import find
from takeoff.jobs.job import Job, JobLine
from takeoff.lengths import INCH, MILLIMETRE, Unit
from takeoff.materials import sheet
from takeoff.nest import JobPlan, nest_job, usable_sizes
from takeoff.papers import Contents, contents
from takeoff.profile import loads as load_profile
from takeoff.stock import loads as load_stock
from takeoff.stock import standard

MARK = '<script>alert("1")</script>'
"""A mark that must never be taken for anything but a text."""
FORMULA = "=1+1"
SECONDS = 0.3

Row = tuple[str, str, int, int, dict[str, str]]
"""Mark, fitting, quantity, gauge, cells."""

INCH_ROWS: tuple[Row, ...] = (
    (MARK, "return box", 1, 24, {"width": "19", "depth": "24", "height": "16"}),
    ("D1", "straight duct", 2, 26, {"width": "20", "height": "8", "length": "118"}),
    ("P1", "plenum", 1, 26, {"width": "17 1/2", "depth": "20", "height": "24"}),
    (FORMULA, "end cap", 4, 26, {"width": "20", "height": "8"}),
)
MM_ROWS: tuple[Row, ...] = (
    ("B1", "box", 1, 24, {"width": "620", "depth": "450", "height": "380"}),
    ("D1", "straight duct", 2, 26, {"width": "300", "height": "150", "length": "2350"}),
)
SMALL_ROWS: tuple[Row, ...] = (
    ("N1", "end cap", 24, 26, {"width": "90", "height": "1/2", "edge": "raw"}),
    ("N2", "end cap", 10, 26, {"width": "40", "height": "1/4", "edge": "raw"}),
    ("S1", "end cap", 40, 26, {"width": "1", "height": "1/2", "edge": "raw"}),
    ("B1", "end cap", 3, 26, {"width": "30", "height": "20"}),
)


def planned(
    rows: tuple[Row, ...], unit: Unit = INCH, profile_text: str = "", stock_text: str = ""
) -> JobPlan:
    """A job nested in a moment."""
    profile = load_profile(profile_text)
    stock = load_stock(stock_text, profile, "stock.csv") if stock_text else standard(profile)
    lines = tuple(
        JobLine(
            number,
            mark,
            find(kind).model_validate(cells, context={"unit": unit}),
            qty,
            sheet("galvanized", gauge),
            FORMULA if mark == MARK else "",
        )
        for number, (mark, kind, qty, gauge, cells) in enumerate(rows, 2)
    )
    job = Job("Trial & error <b>", unit, lines)
    made = make_job(job, profile, usable_sizes(stock, profile))
    return nest_job(job, made, stock, profile, SECONDS)


@cache
def inch_plan() -> JobPlan:
    """Four fittings in two gauges, marks and notes as nasty as they come."""
    return planned(INCH_ROWS)


@cache
def mm_plan() -> JobPlan:
    """Two fittings in millimetres."""
    return planned(MM_ROWS, MILLIMETRE)


@cache
def small_plan() -> JobPlan:
    """Needles and crumbs on a sheet, where names have no room."""
    return planned(SMALL_ROWS)


@cache
def saw_plan() -> JobPlan:
    """A shop whose cutter loses metal at every cut and trims the sheets."""
    return planned(INCH_ROWS, INCH, '[cut]\nkerf = "1/16"\ntrim = "1/4"')


@cache
def short_plan() -> JobPlan:
    """More to cut than the one sheet there is."""
    rows: tuple[Row, ...] = (("C1", "end cap", 9, 26, {"width": "30", "height": "30"}),)
    stock = "material,gauge,stock,width,length,cost,qty\ngalv,26,only,48,96,36.40,1\n"
    return planned(rows, INCH, "", stock)


@cache
def told(plan: Callable[[], JobPlan]) -> Contents:
    """What the papers of a plan tell; its order of bends takes a while."""
    return contents(plan())


ALL = (inch_plan, mm_plan, small_plan, saw_plan, short_plan)
