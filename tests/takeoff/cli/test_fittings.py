"""The catalogue: every family is in it with all its columns."""

import pytest

from takeoff.fittings import Fitting, families
from takeoff.jobs.card_text import defaults
from takeoff.lengths import INCH, MILLIMETRE

from .command import Command


def test_the_list_names_every_family(command: Command) -> None:
    outcome = command("fittings")
    assert outcome.code == 0
    assert all(kind in outcome.out for kind in families())


@pytest.mark.parametrize("family", families().values())
def test_every_column_of_a_family(family: type[Fitting], command: Command) -> None:
    outcome = command("fittings", family.kind)
    assert outcome.code == 0
    first_words = [line.split(" ")[0] for line in outcome.out.splitlines() if line]
    assert all(name in first_words for name in family.model_fields)
    assert all(value in outcome.out for row in family.examples for value in row.values())


@pytest.mark.parametrize("family", families().values())
def test_defaults_are_told_as_a_job_list_has_them(family: type[Fitting]) -> None:
    for unit in (INCH, MILLIMETRE):
        told = {name: text for name, text in defaults(family, unit).items() if text}
        required = {name for name, field in family.model_fields.items() if field.is_required()}
        assert not required & set(told)
        card = family.model_construct()
        for name, text in told.items():
            read = family.__pydantic_validator__.validate_assignment(
                family.model_construct(), name, text, context={"unit": unit}
            )
            assert getattr(read, name) == getattr(card, name), "the default reads back"


def test_limits_in_either_unit(command: Command) -> None:
    assert "more than 0, up to 600 in" in command("fittings", "duct").out
    metric = command("fittings", "Duct", "--units", "mm").out
    assert "more than 0, up to 15240 mm" in metric
    assert "600 in" not in metric
