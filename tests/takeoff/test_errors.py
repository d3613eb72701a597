"""Faults read as one line that a person can act on."""

import pytest

from takeoff.errors import (
    Fault,
    FaultList,
    InvalidLength,
    JobFaults,
    ProfileFault,
    StockFault,
    TakeoffError,
    UnknownGauge,
    UnknownMaterial,
    nearest,
)

NOT_POSITIVE = Fault(14, "width", "0", "is not more than 0", "Give 1 to 240 in.")


def test_fault_is_one_line() -> None:
    assert str(NOT_POSITIVE) == 'row 14, column "width": 0 is not more than 0. Give 1 to 240 in.'


@pytest.mark.parametrize(
    ("fault", "text"),
    [
        (Fault(None, "brake.length", "0", "is too short", ""), "brake.length: 0 is too short."),
        (Fault(3, None, "x", "is unknown.", "Drop it."), "row 3: x is unknown. Drop it."),
        (Fault(None, None, "", "is no list", ""), "a blank is no list."),
        (Fault(2, "a", "one\ntwo", "is bad", "Say\none."), 'row 2, column "a": one two is bad. '
         "Say one."),
    ],
)  # fmt: skip
def test_fault_without_some_parts(fault: Fault, text: str) -> None:
    assert str(fault) == text


def test_long_values_are_cut_short() -> None:
    assert len(str(Fault(1, "a", "y" * 9999, "is long", ""))) < 100


@pytest.mark.parametrize("kind", [JobFaults, ProfileFault, StockFault])
def test_fault_lists_carry_all_faults(kind: type[FaultList]) -> None:
    other = Fault(15, "qty", "-1", "is not 1 or more", "Give a whole number.")
    error = kind([NOT_POSITIVE, other], "house.csv")
    assert isinstance(error, TakeoffError)
    assert error.faults == (NOT_POSITIVE, other)
    assert str(error) == f"house.csv: 2 faults\n  {NOT_POSITIVE}\n  {other}"
    assert str(kind([NOT_POSITIVE], "house.csv")) == f"house.csv: {NOT_POSITIVE}"
    assert str(kind([NOT_POSITIVE])) == str(NOT_POSITIVE)


def test_a_fault_list_without_faults_is_a_mistake_of_ours() -> None:
    with pytest.raises(ValueError, match="at least one"):
        JobFaults([])


@pytest.mark.parametrize("kind", [InvalidLength, UnknownMaterial, UnknownGauge])
def test_value_errors_are_also_builtin(kind: type[Exception]) -> None:
    assert issubclass(kind, TakeoffError)
    assert issubclass(kind, ValueError)


def test_nearest_names() -> None:
    names = ["straight duct", "end cap", "box"]
    assert nearest("Straight Duckt", names) == 'Did you mean "straight duct"?'
    assert nearest("zzzz", names) == "Known: straight duct, end cap, box."
    assert nearest("x", []) == ""
