from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.lengths import INCH, MILLIMETRE
from takeoff.stockroom import ChangedMeanwhile, NotThere, Room, StoredJob, StoredRow, Unkeepable

ROWS = (
    StoredRow("a", {"mark": "RB1", "width": "20 1/2"}),
    StoredRow("b", {"mark": "T1"}),
    StoredRow("c", {"mark": "EC1"}),
)


@pytest.fixture
def job(room: Room) -> StoredJob:
    return room.jobs.create("Bakery", INCH, ROWS, {"air": "supply"})


def keys(job: StoredJob) -> str:
    return "".join(row.key for row in job.rows)


def test_a_job_comes_back_as_it_went_in(room: Room, job: StoredJob) -> None:
    assert (job.name, job.unit, dict(job.header), job.version) == (
        "Bakery",
        INCH,
        {"air": "supply"},
        1,
    )
    assert job.rows == ROWS
    assert room.jobs.get(job.id) == job
    assert job.created == job.changed


def test_jobs_are_listed_the_last_changed_first(room: Room, job: StoredJob) -> None:
    other = room.jobs.create("Clinic", MILLIMETRE)
    assert [head.name for head in room.jobs.all()] == ["Clinic", "Bakery"]
    room.jobs.rename(job.id, "Quayside bakery")
    heads = room.jobs.all()
    assert [(head.name, head.rows, head.version) for head in heads] == [
        ("Quayside bakery", 3, 2),
        ("Clinic", 0, 1),
    ]
    assert other.unit == heads[1].unit == MILLIMETRE


def test_a_copy_is_a_job_of_its_own(room: Room, job: StoredJob) -> None:
    copy = room.jobs.copy(job.id, "Bakery, second floor")
    assert (copy.rows, copy.header, copy.unit) == (job.rows, job.header, job.unit)
    room.jobs.save_row(copy.id, "a", {}, 1)
    assert room.jobs.get(job.id) == job


def test_rows_are_put_in_moved_and_taken_out(room: Room, job: StoredJob) -> None:
    assert keys(room.jobs.add_row(job.id, {"mark": "E1"}, 1, "d")) == "adbc"
    assert keys(room.jobs.move_row(job.id, "a", 3, 1)) == "dbca"
    assert keys(room.jobs.move_row(job.id, "a", 0, 2)) == "adbc"
    now = room.jobs.delete_row(job.id, "b", 1)
    assert (keys(now), now.version) == ("adc", 5)
    new = room.jobs.add_row(job.id, {}).rows[-1]
    assert new.key not in {row.key for row in ROWS}


def test_a_row_that_was_changed_meanwhile_is_not_overwritten(room: Room, job: StoredJob) -> None:
    room.jobs.save_row(job.id, "b", {"mark": "T1", "width": "18"}, 1)
    for late in (
        lambda: room.jobs.save_row(job.id, "b", {"mark": "T9"}, 1),
        lambda: room.jobs.move_row(job.id, "b", 0, 1),
        lambda: room.jobs.delete_row(job.id, "b", 1),
    ):
        with pytest.raises(ChangedMeanwhile) as caught:
            late()
        assert caught.value.row == StoredRow("b", {"mark": "T1", "width": "18"}, 2)
        assert caught.value.job == room.jobs.get(job.id)


def test_a_row_that_was_deleted_meanwhile_is_told(room: Room, job: StoredJob) -> None:
    room.jobs.delete_row(job.id, "b", 1)
    with pytest.raises(ChangedMeanwhile, match="deleted") as caught:
        room.jobs.save_row(job.id, "b", {}, 1)
    assert caught.value.row is None
    assert keys(caught.value.job) == "ac"


def test_others_rows_do_not_stand_in_the_way(room: Room, job: StoredJob) -> None:
    room.jobs.save_row(job.id, "a", {"mark": "RB2"}, 1)
    now = room.jobs.save_row(job.id, "b", {"mark": "T2"}, 1)
    assert [row.cells.get("mark") for row in now.rows] == ["RB2", "T2", "EC1"]


def test_a_whole_job_is_replaced_only_as_it_was_read(room: Room, job: StoredJob) -> None:
    changed = replace(job, unit=MILLIMETRE, rows=(ROWS[2], replace(ROWS[0], cells={})))
    now = room.jobs.replace(changed)
    assert [(row.key, row.version) for row in now.rows] == [("c", 1), ("a", 2)]
    assert (now.unit, now.version) == (MILLIMETRE, 2)
    with pytest.raises(ChangedMeanwhile) as caught:
        room.jobs.replace(changed)
    assert caught.value.job == now


def test_a_key_is_given_once(room: Room, job: StoredJob) -> None:
    with pytest.raises(ChangedMeanwhile):
        room.jobs.add_row(job.id, {}, key="a")
    with pytest.raises(Unkeepable):
        room.jobs.replace(replace(job, rows=(ROWS[0], ROWS[0])))
    assert room.jobs.get(job.id) == job


def test_a_deleted_job_leaves_its_plans(room: Room, job: StoredJob) -> None:
    room.plans.note("p", "Bakery", job=job.id)
    assert room.plans.get("p").job == job.id
    room.jobs.delete(job.id)
    assert room.jobs.all() == ()
    assert room.plans.get("p").job is None
    for gone in (room.jobs.get, room.jobs.delete, lambda each: room.jobs.rename(each, "x")):
        with pytest.raises(NotThere):
            gone(job.id)


def test_a_job_is_named_and_deleted_only_as_it_was_seen(room: Room, job: StoredJob) -> None:
    now = room.jobs.rename(job.id, "Quayside", was="Bakery")
    for late in (
        lambda: room.jobs.rename(job.id, "Mine", was="Bakery"),
        lambda: room.jobs.delete(job.id, job.version),
    ):
        with pytest.raises(ChangedMeanwhile) as caught:
            late()
        assert caught.value.job == now == room.jobs.get(job.id)
    room.jobs.delete(job.id, now.version)
    assert room.jobs.all() == ()


def test_of_two_at_one_row_one_is_told(room: Room, job: StoredJob) -> None:
    def save(words: str) -> bool:
        try:
            room.jobs.save_row(job.id, "a", {"mark": words}, 1)
        except ChangedMeanwhile:
            return False
        return True

    with ThreadPoolExecutor(4) as threads:
        saved = list(threads.map(save, ["w", "x", "y", "z"]))
    assert saved.count(True) == 1
    assert room.jobs.get(job.id).row("a") == StoredRow("a", {"mark": "wxyz"[saved.index(True)]}, 2)


def test_of_two_at_two_rows_both_are_kept(room: Room, job: StoredJob) -> None:
    def save(key: str) -> None:
        for version in range(1, 6):
            room.jobs.save_row(job.id, key, {"mark": f"{key}{version}"}, version)

    with ThreadPoolExecutor(3) as threads:
        list(threads.map(save, "abc"))
    now = room.jobs.get(job.id)
    assert [row.cells["mark"] for row in now.rows] == ["a5", "b5", "c5"]
    assert now.version == 16


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(cells=st.dictionaries(st.text(), st.text(st.characters())))
def test_any_text_comes_back_from_a_cell(room: Room, cells: dict[str, str]) -> None:
    job = room.jobs.create("Bakery", INCH, [StoredRow("a", cells)])
    assert dict(room.jobs.get(job.id).rows[0].cells) == cells
