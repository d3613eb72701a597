"""What the code table and the air check have against a job, told in sentences."""

from takeoff.advice import WARNING
from takeoff.findings import findings
from takeoff.jobs.read_csv import read_csv
from takeoff.profile import default

HEADING = "mark,fitting,material,gauge,cfm,width,height,length,branch\n"


def told(rows: str) -> tuple[str, ...]:
    return findings(read_csv((HEADING + rows).encode()), default())


def test_a_sound_job_has_none() -> None:
    assert told("D1,duct,,26,,12,8,47,\n") == ()


def test_each_kind_once_and_the_warning_last_of_the_gauges() -> None:
    light, beyond, unlisted, warning, fast, friction, unknown = told(
        "D1,duct,,30,,12,8,47,\n"
        "D2,duct,,24,,24,8,47,\nD3,duct,,24,,26,8,47,\n"
        "D4,duct,ss,24,,12,8,47,\n"
        "T1,tee,,26,900,14,10,20,8\n"
    )
    assert light.startswith("D1: galvanized 30 ga is lighter than IMC Table 603.4")
    assert beyond.startswith("Larger than the code table reaches (IMC Table 603.4")
    assert beyond.endswith(": D2, D3.")
    assert unlisted.endswith("lacks: D4.")
    assert warning == WARNING
    assert fast.startswith("T1: 900 cfm through its end 1 of 14 x 10 in runs 926 fpm")
    assert "per 100 ft" in friction
    assert unknown == "T1: the list does not tell how much air passes its end 2, end 3."
