"""The top of a job list: lines about the whole job, then the row that names the columns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from takeoff.errors import Fault, nearest
from takeoff.lengths import INCH, MILLIMETRE, Unit

from .columns import FIXED, NEEDED, key, names

REMARK = "#"
SETTINGS = ("job", "units")
_UNITS = {
    **dict.fromkeys(("in", "inch", "inches"), INCH),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), MILLIMETRE),
}


@dataclass(frozen=True)
class Heading:
    """What the top of a job list says.

    Attributes:
        row: of the titles, as a spreadsheet counts it; 0 where there are none.
        settings: `job` and `units`, as far as they are given.
        titles: of the columns, as they are written.
        columns: by place in the row, the name of a fixed column or of a fitting's field.
        faults: all that is wrong so far.
    """

    row: int = 0
    settings: Mapping[str, str] = field(default_factory=dict)
    titles: Sequence[str] = ()
    columns: Mapping[int, str] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()

    @property
    def usable(self) -> bool:
        """Whether rows can be read by it: the columns that every row needs are there."""
        return all(name in self.columns.values() for name in NEEDED)

    def unit(self, usual: Unit) -> Unit:
        """The unit of bare numbers; `usual` where the list does not say."""
        return _UNITS.get(self.settings.get("units", "").casefold(), usual)

    def title(self, name: str) -> str:
        """What the list calls the column; its own name where the list lacks it."""
        places = (place for place, column in self.columns.items() if column == name)
        return next((self.titles[place] for place in places), name)


def read_heading(rows: Sequence[Sequence[str]]) -> Heading:
    """The top of a list of rows, each a list of texts."""
    settings: dict[str, str] = {}
    faults: list[Fault] = []
    for number, row in enumerate(rows, start=1):
        if not any(row):
            continue
        if not row[0].startswith(REMARK):
            columns = _columns(row)
            faults += _title_faults(number, row, columns)
            return Heading(number, settings, tuple(row), columns, tuple(faults))
        words = ", ".join(cell for cell in row if cell)
        faults += _read_setting(number, words.lstrip(REMARK), settings)
    return Heading(settings=settings, faults=tuple(faults))


def _read_setting(number: int, words: str, settings: dict[str, str]) -> list[Fault]:
    """Enter one `job = Elm Street`; a line without an equals sign is a remark."""
    name, equals, value = (part.strip() for part in words.partition("="))
    if not equals:
        return []
    name = name.casefold()
    if name not in SETTINGS:
        return [Fault(number, None, name, "is not a setting of a job", nearest(name, SETTINGS))]
    if name in settings:
        return [Fault(number, None, name, "is set twice", "Keep one line of the name.")]
    settings[name] = value
    if name == "units" and value.casefold() not in _UNITS:
        return [Fault(number, "units", value, "is not a unit for a job", "Give in or mm.")]
    return []


def _columns(row: Sequence[str]) -> dict[int, str]:
    """The columns that are known, each once."""
    columns: dict[int, str] = {}
    for place, title in enumerate(row):
        name = names().get(key(title))
        if name is not None and name not in columns.values():
            columns[place] = name
    return columns


def _title_faults(number: int, row: Sequence[str], columns: Mapping[int, str]) -> list[Fault]:
    if not any(name in FIXED for name in columns.values()):
        listed = ", ".join(FIXED)
        wanted = f"Name the columns there: {listed} and the dimensions of the fittings."
        return [Fault(number, None, next(filter(None, row)), "does not begin a heading", wanted)]
    faults = [
        Fault(number, None, title, *_title_problem(title, columns))
        for place, title in enumerate(row)
        if title and place not in columns
    ]
    lacking = [name for name in NEEDED if name not in columns.values()]
    faults += [
        Fault(number, None, name, "is not among the columns", "Add the column.") for name in lacking
    ]
    return faults


def _title_problem(title: str, columns: Mapping[int, str]) -> tuple[str, str]:
    if names().get(key(title)) in columns.values():
        return "is there twice", "Keep one column of the name."
    return "is not a column that any fitting has", nearest(title, names().values())
