"""Gauges and sheet sizes of a job side by side: what to compare, and what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from starlette.responses import Response

from takeoff.compare import choices as every
from takeoff.compare.choices import Choice, NotAChoice, SheetSize, Supply
from takeoff.jobs.job import Job
from takeoff.materials import MATERIALS, gauges
from takeoff.stockroom import StoredJob
from takeoff.web.asking import Ask, get, post
from takeoff.web.fields import FormField
from takeoff.web.pages.plan import begun, read_seconds, seconds_field
from takeoff.web.pages.result import summary
from takeoff.web.ready import ready
from takeoff.web.runs import CompareOrder, Kind, Run
from takeoff.web.runs.record import About
from takeoff.web.shop_book import ShopNow
from takeoff.web.showing import show

USUAL_SECONDS = "2"
MOST_CHOICES = 40


@dataclass(frozen=True)
class Wanted:
    """What is ticked and written in the form.

    Attributes:
        materials: names of metals.
        gauges: as they are written.
        sizes: names of sheet sizes in stock.
        others: sizes that are not, as they are written.
        seconds: as they are written.
    """

    materials: tuple[str, ...] = ()
    gauges: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    others: str = ""
    seconds: str = USUAL_SECONDS


def form(ask: Ask) -> Response:
    """What can be compared."""
    return _form(ask, ask.desk.jobs.get(ask.number("job")), Wanted())


def start(ask: Ask) -> Response:
    """Put a comparison into the queue, or tell what is wrong."""
    job = ask.desk.jobs.get(ask.number("job"))
    wanted = Wanted(
        _ticked(ask, "material"),
        _ticked(ask, "gauge"),
        _ticked(ask, "size"),
        ask.text("others"),
        ask.text("seconds"),
    )
    seconds, wrong = read_seconds(wanted.seconds)
    if wrong:
        return _form(ask, job, wanted, {"seconds": wrong})
    shop = ask.shop
    found = ready(job, ask.desk.reading(job, shop))
    if found.job is None or found.faults:
        return _form(ask, job, wanted, faults=found.faults)
    supply = Supply(shop.stock, None, {})
    try:
        asked = _choices(wanted, found.job, shop, supply)
    except NotAChoice as error:
        return _form(ask, job, wanted, {"others": str(error)})
    if not 1 < len(asked) <= MOST_CHOICES:
        few = "Tick at least one gauge, metal or size beside the job as written."
        many = f"These are {len(asked)} combinations. Tick fewer: {MOST_CHOICES} at most."
        return _form(ask, job, wanted, {"": few if len(asked) < 2 else many})
    order = CompareOrder(found.job, supply, shop.profile, asked, seconds)
    words = f"{len(asked)} choices"
    return begun(ask, About(Kind.COMPARISON, job.id, job.name, job.version, seconds, words), order)


def whole(ask: Ask, run: Run, changed: str) -> Response:
    """A comparison that is made."""
    return show(ask, "comparison.html", run=run, changed=changed, compared=summary(ask, run))


def _choices(wanted: Wanted, job: Job, shop: ShopNow, supply: Supply) -> tuple[Choice, ...]:
    """Every combination of what is wanted. Raises NotAChoice."""
    offered = {size.name: size for size in every.sizes_in_stock(job, shop.stock)}
    sizes: list[SheetSize] = [offered[name] for name in wanted.sizes if name in offered]
    sizes += every.read_sheets(wanted.others, job.unit)
    return every.choices(
        every.read_materials(",".join(wanted.materials)),
        every.read_gauges(",".join(wanted.gauges)),
        sizes,
        supply,
    )


def _ticked(ask: Ask, name: str) -> tuple[str, ...]:
    return tuple(value for value in ask.form.getlist(name) if isinstance(value, str))


def _form(
    ask: Ask,
    job: StoredJob,
    wanted: Wanted,
    wrong: dict[str, str] | None = None,
    faults: Sequence[tuple[str, str]] = (),
) -> Response:
    shop = ask.shop
    wrong = wrong or {}
    found = ready(job, ask.desk.reading(job, shop)).job
    others = FormField(
        name="others",
        label="Other sheet sizes",
        kind="text",
        value=wanted.others,
        about=f"Width x length ({job.unit.name}), such as 48x144, 60x120.",
        faults=(wrong["others"],) if "others" in wrong else (),
    )
    about = "For nesting each choice, one after the other."
    return show(
        ask,
        "compare.html",
        422 if wrong or faults else 200,
        job=job,
        wanted=wanted,
        wrong=wrong.get("", ""),
        faults=faults,
        materials=MATERIALS,
        gauges=sorted({str(gauge) for metal in MATERIALS for gauge in gauges(metal)}),
        sizes=[size.name for size in every.sizes_in_stock(found, shop.stock)] if found else [],
        others=others,
        seconds=seconds_field(wanted.seconds, about, wrong.get("seconds", "")),
    )


ROUTES = [
    get("/jobs/{job:int}/compare", form),
    post("/jobs/{job:int}/compare", start),
]
