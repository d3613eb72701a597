"""What a field allows, in words."""

from fractions import Fraction
from typing import Annotated, Literal

import pytest
from pydantic import BaseModel, BeforeValidator, Field

from takeoff.lengths import INCH, MILLIMETRE, parse
from takeoff.limits import allowed, is_length, length_text

Length = Annotated[Fraction, BeforeValidator(parse), Field(gt=0, le=600)]


class Card(BaseModel):
    size: Length
    maybe: Length | None = None
    shift: Annotated[Fraction, Field(ge=-24, le=24)]
    below: Annotated[Fraction, Field(ge=0, lt=12)]
    open_end: Annotated[Fraction, Field(ge=1)]
    least: Annotated[Fraction, Field(gt=1)]
    most: Annotated[Fraction, Field(le=1)]
    under: Annotated[Fraction, Field(lt=1)]
    any_length: Fraction
    count: Annotated[int, Field(ge=1, le=8)]
    any_count: int
    angle: Annotated[float, Field(gt=0, le=90)]
    kind: Literal["auto", "yes", "no"]
    one: Literal["only"]
    count_or_auto: int | Literal["auto"]
    flag: bool | None
    words: str
    names: tuple[str, ...]


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("size", "more than 0, up to 600 in"),
        ("maybe", "more than 0, up to 600 in"),
        ("shift", "-24 to 24 in"),
        ("below", "0 or more, less than 12 in"),
        ("open_end", "1 in or more"),
        ("least", "more than 1 in"),
        ("most", "up to 1 in"),
        ("under", "less than 1 in"),
        ("any_length", "a length"),
        ("count", "a whole number, 1 to 8"),
        ("any_count", "a whole number"),
        ("angle", "a number, more than 0, up to 90"),
        ("kind", "auto, yes or no"),
        ("one", "only"),
        ("count_or_auto", "a whole number or auto"),
        ("flag", "yes or no"),
        ("words", ""),
        ("names", ""),
    ],
)
def test_what_a_field_allows(name: str, words: str) -> None:
    assert allowed(Card.model_fields[name], INCH) == words


def test_limits_in_millimetres() -> None:
    # 600 x 25.4 = 15240; 24 x 25.4 = 609.6
    assert allowed(Card.model_fields["size"], MILLIMETRE) == "more than 0, up to 15240 mm"
    assert allowed(Card.model_fields["shift"], MILLIMETRE) == "-609.6 to 609.6 mm"
    assert allowed(Card.model_fields["count"], MILLIMETRE) == "a whole number, 1 to 8"
    assert length_text(600, MILLIMETRE) == "15240 mm"
    assert length_text(0, MILLIMETRE) == "0"


def test_which_fields_are_lengths() -> None:
    lengths = {name for name, field in Card.model_fields.items() if is_length(field)}
    assert lengths == {
        *("size", "maybe", "shift", "below", "open_end", "least", "most", "under", "any_length"),
    }
