"""What pydantic finds wrong, in the words of a fault."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, Literal

import pytest
from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

from takeoff.faults import from_validation, refuse
from takeoff.lengths import parse


def never(value: str) -> str:
    raise refuse("has {braces} in it", "Leave {braces} out.")


class Inner(BaseModel):
    model_config = ConfigDict(extra="forbid")
    width: Annotated[Fraction, BeforeValidator(parse), Field(gt=0, le=600)]
    share: Annotated[float, Field(ge=0, lt=1)] = 0
    odd: Annotated[str, AfterValidator(never)] | None = None


class Outer(BaseModel):
    model_config = ConfigDict(extra="forbid")
    named: Mapping[str, Inner] = Field(default_factory=dict)
    kind: Literal["box", "duct"] = "box"


def said(tree: object, row: int | None = None) -> list[str]:
    with pytest.raises(ValidationError) as caught:
        Outer.model_validate(tree)
    return [str(fault) for fault in from_validation(caught.value, Outer, row)]


@pytest.mark.parametrize(
    ("tree", "line"),
    [
        ({"kind": "bx"}, "kind: bx is not a choice here. Give 'box' or 'duct'."),
        ({"knid": 1}, 'knid: knid is not a key here. Did you mean "kind"?'),
        ({"named": {"a": {"width": 1, "wdth": 1}}}, 'named.a.wdth: wdth is not a key here. Did '
         'you mean "width"?'),
        ({"named": {"a": {}}}, "named.a: nothing is given for width. Give a value for each."),
        ({"named": 3}, "named: 3 is not a table. Give it as a table of its own."),
        ({"named": {"a": {"width": "0"}}}, "named.a.width: 0 is not more than 0. Give more than "
         "0."),
        ({"named": {"a": {"width": "600 1/2"}}}, "named.a.width: 600 1/2 is more than 600. Give "
         "600 or less."),
        ({"named": {"a": {"width": "no"}}}, "named.a.width: no is not a length. Write it as "
         "17 1/2, 17-1/2, 17.5, 1' 5-1/2\", 5', 445mm, 44.5cm or 1.2m."),
        ({"named": {"a": {"width": 1, "share": -1}}}, "named.a.share: -1 is less than 0. Give 0 "
         "or more."),
        ({"named": {"a": {"width": 1, "share": 1}}}, "named.a.share: 1 is not less than 1. Give "
         "less than 1."),
        ({"named": {"a": {"width": 1, "odd": "x"}}}, "named.a.odd: x has {braces} in it. Leave "
         "{braces} out."),
    ],
)  # fmt: skip
def test_one_fault(tree: object, line: str) -> None:
    assert said(tree) == [line]


def test_a_row_of_a_file_goes_in_front() -> None:
    assert said({"kind": "bx"}, row=14)[0].startswith('row 14, column "kind": bx is')


def test_what_is_missing_from_the_whole() -> None:
    with pytest.raises(ValidationError) as caught:
        Inner.model_validate({})
    (fault,) = from_validation(caught.value, Inner, 3)
    assert str(fault) == "row 3: nothing is given for width. Give a value for each."
