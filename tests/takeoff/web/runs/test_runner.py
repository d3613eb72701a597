"""The queue: one run at a time, ended in every way there is; its process only waits."""

import errno
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from takeoff.jobs.job import Job
from takeoff.lengths import INCH
from takeoff.papers.folder import CannotWrite
from takeoff.profile import default
from takeoff.stock import StockList
from takeoff.stockroom import Needs
from takeoff.stockroom.plans import NO_PAPERS
from takeoff.web.app import build
from takeoff.web.runs import Busy, Kind, NoSuchRun, PlanOrder, Run, Runs, State, process
from takeoff.web.runs.record import About, NoLedger
from takeoff.web.runs.runner import MOST_WAITING
from takeoff.web.runs.shelf import ClosedFolder, FolderTaken, Shelf
from tests.takeoff.web.conftest import HOME, Visitor, inputs
from tests.takeoff.web.desks import desk_in
from tests.takeoff.web.jobs_kept import BAKERY

from .waiting import lives, until

PATIENT = "tests.takeoff.web.runs.patient_child"
ORDER = PlanOrder(Job("Elm", INCH, ()), StockList(()), default(), 1.0)


@pytest.fixture
def runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Runs]:
    monkeypatch.setattr(process, "MODULE", PATIENT)
    with closing(Runs(tmp_path)) as opened:
        yield opened


def start(runs: Runs, job: int = 1) -> Run:
    return runs.start(About(Kind.PLAN, job, "Elm", 1, 1.0), ORDER)


def tells(runs: Runs, run: Run) -> None:
    """Wait until the run's process has told something."""

    def told() -> bool:
        progress = runs.moment(run).progress
        return progress is not None and progress.found == "Nothing yet."

    until(told, "a word of the process")


def end(runs: Runs, run: Run, how: str) -> Run:
    folder = runs.papers(run).parent
    until(folder.exists, "the folder")
    (folder / "end").write_text(how)
    until(lambda: not runs.run(run.key).live, "the end")
    return runs.run(run.key)


def test_a_run_from_the_queue_to_its_end(runs: Runs) -> None:
    run = start(runs)
    tells(runs, run)
    assert runs.run(run.key).state is State.RUNNING
    moment = runs.moment(run)
    assert moment.progress is not None
    assert moment.progress.rows == (("<b>", "1"),)
    assert 0 < moment.seconds < 60
    over = end(runs, run, "done")
    assert (over.state, over.told, over.early) == (State.DONE, "so it ended", False)
    assert over.ended is not None
    assert runs.papers(over).is_dir()
    assert runs.view(over).is_dir()


def test_a_run_that_fails_leaves_nothing_but_its_reason(runs: Runs) -> None:
    over = end(runs, start(runs), "failed")
    assert (over.state, over.told) == (State.FAILED, "so it ended")
    assert sorted(path.name for path in runs.papers(over).parent.iterdir()) == ["run.json"]


def test_an_error_of_the_program_is_told_in_a_sentence(runs: Runs) -> None:
    over = end(runs, start(runs), "break")
    assert over.state is State.FAILED
    assert "an error in this program, not in your job" in over.told
    assert not runs.papers(over).exists()


def test_a_process_that_is_killed_fails_in_a_sentence(runs: Runs) -> None:
    run = start(runs)
    tells(runs, run)
    os.kill(pid_of(runs), signal.SIGKILL)
    until(lambda: not runs.run(run.key).live, "the end")
    over = runs.run(run.key)
    assert over.state is State.FAILED
    assert "ended from outside (SIGKILL)" in over.told
    assert "Your job is as it was" in over.told


class Keeps(NoLedger):
    """A ledger that wants one run kept."""

    kept = ""

    def forget(self, run: Run) -> None:
        if run.key == self.kept:
            raise Busy("It is needed.")


def test_a_run_that_the_ledger_wants_stays_until_its_job_is_gone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(process, "MODULE", PATIENT)
    ledger = Keeps()
    with closing(Runs(tmp_path, ledger)) as runs:
        made = [end(runs, start(runs), "failed") for _ in range(2)]
        ledger.kept = made[0].key
        with pytest.raises(Busy, match="needed"):
            runs.discard(made[0])
        assert len(runs.of_job(1)) == 2
        runs.drop(1)
        assert not runs.of_job(1)


@pytest.mark.parametrize("reserved", [0, 1])
def test_a_job_is_deleted_with_all_its_plans_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, reserved: int
) -> None:
    monkeypatch.setattr(process, "MODULE", PATIENT)
    with desk_in(tmp_path) as desk, TestClient(build(desk, "a secret"), HOME) as client:
        visitor, room, job = Visitor(client), desk.room, desk.jobs.create("Elm", INCH)
        made = [end(desk.runs, start(desk.runs, job.id), "failed").key for _ in range(2)]
        sent = {"_version": inputs(visitor.get(f"/jobs/{job.id}/delete").text)["_version"]}
        delete = desk.jobs.delete

        def reserve_first(*given: Any) -> None:
            room.plans.commit(made[reserved], "Elm", Needs((), ()))  # by another visitor
            delete(*given)

        with monkeypatch.context() as late:
            late.setattr(desk.jobs, "delete", reserve_first)
            told = visitor.post(f"/jobs/{job.id}/delete", sent)
        assert "Release it first" in told.text
        assert desk.jobs.get(job.id) == job
        assert len(desk.runs.of_job(job.id)) == 2
        assert all(room.plans.get(key).told != NO_PAPERS for key in made)
        room.plans.release(made[reserved])
        visitor.post(f"/jobs/{job.id}/delete", sent)
        assert not desk.jobs.all()
        assert not desk.runs.of_job(job.id)
        assert all(room.plans.get(key).told == NO_PAPERS for key in made)


def test_the_queue_goes_on_after_a_process_that_is_killed_in_the_middle_of_a_word(
    runs: Runs,
) -> None:
    over = end(runs, start(runs), "half a word")
    assert over.state is State.FAILED
    assert "ended from outside (SIGKILL)" in over.told
    assert end(runs, start(runs), "done").state is State.DONE


def test_the_queue_goes_on_where_the_disk_refuses(
    runs: Runs, monkeypatch: pytest.MonkeyPatch
) -> None:
    put = Shelf.put

    def full(shelf: Shelf, run: Run) -> None:
        if not run.live:
            raise CannotWrite("no space left")
        put(shelf, run)

    monkeypatch.setattr(Shelf, "put", full)
    assert end(runs, start(runs), "done").state is State.DONE
    run = start(runs)
    tells(runs, run)
    shutil.rmtree(runs.papers(run).parent)
    os.kill(pid_of(runs), signal.SIGKILL)
    until(lambda: not runs.run(run.key).live, "the end")
    assert runs.run(run.key).state is State.FAILED
    monkeypatch.setattr(Shelf, "put", put)
    assert end(runs, start(runs), "done").state is State.DONE


def test_a_run_is_not_started_where_the_disk_refuses(
    runs: Runs, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "write_text", full)
        with pytest.raises(CannotWrite, match="No space left"):
            start(runs)
    assert not runs.of_job(1)
    assert end(runs, start(runs), "done").state is State.DONE


def test_a_run_that_is_cancelled_gives_what_it_has(runs: Runs) -> None:
    run = start(runs)
    tells(runs, run)
    runs.cancel(run)
    runs.cancel(run)
    until(lambda: not runs.run(run.key).live, "the end")
    over = runs.run(run.key)
    assert (over.state, over.early) == (State.DONE, True)
    assert (runs.papers(over).parent / "wish").read_bytes() == b"stop\n"


def test_a_wish_before_the_process_is_up_is_not_lost(runs: Runs) -> None:
    run = start(runs)
    until(lambda: runs.moment(run).progress, "its start")
    runs.cancel(run)
    assert runs.moment(run).stopping
    until(lambda: not runs.run(run.key).live, "the end")
    assert runs.run(run.key).early


def test_a_run_that_is_discarded_is_gone_with_its_process(runs: Runs) -> None:
    run = start(runs)
    tells(runs, run)
    pid = pid_of(runs)
    runs.discard(run)
    assert not lives(pid)
    assert not runs.papers(run).parent.exists()
    with pytest.raises(NoSuchRun):
        runs.run(run.key)
    assert not runs.of_job(1)
    assert end(runs, start(runs), "done").state is State.DONE


def test_a_job_has_one_run_at_a_time(runs: Runs) -> None:
    first = start(runs)
    with pytest.raises(Busy) as caught:
        start(runs)
    assert caught.value.run is not None
    assert caught.value.run.key == first.key
    end(runs, first, "done")
    end(runs, start(runs), "done")
    assert len(runs.of_job(1)) == 2


def test_others_wait_in_their_order(runs: Runs) -> None:
    first, second, third = (start(runs, job) for job in (1, 2, 3))
    tells(runs, first)
    assert [runs.moment(each).ahead for each in (second, third)] == [1, 2]
    assert runs.run(third.key).state is State.QUEUED
    runs.cancel(second)
    assert (runs.run(second.key).state, runs.moment(third).ahead) == (State.STOPPED, 1)
    assert runs.run(second.key).told == "Stopped before it began."
    end(runs, first, "done")
    tells(runs, third)
    assert end(runs, third, "done").state is State.DONE


def test_the_queue_is_not_endless(runs: Runs) -> None:
    tells(runs, start(runs, 0))
    for job in range(MOST_WAITING):
        start(runs, job + 1)
    with pytest.raises(Busy, match="wait already"):
        start(runs, 99)
    assert not runs.of_job(99)


def test_two_servers_do_not_share_a_folder(runs: Runs, tmp_path: Path) -> None:
    with pytest.raises(FolderTaken, match="Another server keeps its plans"):
        Runs(tmp_path)


def test_a_folder_that_is_closed_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(ClosedFolder, match=r"Plans cannot be kept in .*file/plans: Not a dir"):
        Shelf(tmp_path / "file" / "plans")

    def closed(_: Path) -> Iterator[Path]:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    with monkeypatch.context() as patch:
        patch.setattr(Path, "iterdir", closed)
        with pytest.raises(ClosedFolder, match="Permission denied"):
            Shelf(tmp_path / "plans")
    Shelf(tmp_path / "plans").close()  # nothing holds it


def test_a_run_that_cannot_be_deleted_is_still_there(
    runs: Runs, monkeypatch: pytest.MonkeyPatch
) -> None:
    run = start(runs)
    runs.cancel(run)
    until(lambda: not runs.run(run.key).live, "the end")

    def closed(path: Path, missing_ok: bool = False) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))

    with monkeypatch.context() as patch:
        patch.setattr(Path, "unlink", closed)
        with pytest.raises(ClosedFolder, match="Read-only file system"):
            runs.discard(run)
    assert runs.run(run.key).key == run.key
    runs.discard(run)
    with pytest.raises(NoSuchRun):
        runs.run(run.key)


def test_what_was_live_is_marked_stopped_at_the_next_start(runs: Runs, tmp_path: Path) -> None:
    first, second = start(runs, 1), start(runs, 2)
    done = runs.start(About(Kind.PLAN, 3, "Oak", 1, 1.0), ORDER)
    tells(runs, first)
    pid = pid_of(runs)
    runs.close()
    assert not lives(pid)
    (tmp_path / "rubbish").mkdir()
    (tmp_path / "damaged").mkdir()
    (tmp_path / "damaged" / "run.json").write_text("{")
    (runs.papers(first)).mkdir()
    with closing(Runs(tmp_path)) as again:
        for run in (first, second, done):
            over = again.run(run.key)
            assert over.state is State.STOPPED
            assert "restarted before this was ready" in over.told
            assert over.about == run.about
            assert not again.papers(over).exists()
        with pytest.raises(NoSuchRun):
            again.run("damaged")


SERVER = """
import sys, time
from pathlib import Path
from tests.takeoff.web.runs.test_runner import pid_of
from takeoff.jobs.files import read_job
from takeoff.profile import default
from takeoff.stock import standard
from takeoff.web.runs import Kind, PlanOrder, Runs
from takeoff.web.runs.record import About
shop = default()
order = PlanOrder(read_job(Path(sys.argv[2])), standard(shop), shop, 1800.0)
runs = Runs(Path(sys.argv[1]))
run = runs.start(About(Kind.PLAN, 1, "Elm", 1, 1800.0), order)
while not (runs.moment(run).progress and runs.moment(run).progress.found):
    time.sleep(0.01)
print(pid_of(runs), flush=True)
time.sleep(60)
"""


def test_a_server_that_is_killed_leaves_no_process_and_no_plan(
    tmp_path: Path,
) -> None:
    server = subprocess.Popen(
        [sys.executable, "-c", SERVER, str(tmp_path), str(BAKERY)],
        stdout=subprocess.PIPE,
        text=True,
    )
    with server:
        assert server.stdout is not None
        pid = int(server.stdout.readline())
        assert lives(pid)
        server.send_signal(signal.SIGKILL)
    until(lambda: not lives(pid), "the end of the orphan", 10)
    with closing(Runs(tmp_path)) as runs:
        (over,) = runs.of_job(1)
        assert over.state is State.STOPPED
        assert not runs.papers(over).exists()


def pid_of(runs: Runs) -> int:
    now = runs._now
    assert now is not None
    return now[1].pid
