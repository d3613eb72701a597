"""The output folder: whole or not at all."""

import errno
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from takeoff.errors import TakeoffError
from takeoff.papers import CannotWrite, Extra, PlanExists, contents, write_all
from takeoff.papers.folder import check_free, write_folder

from .plans import inch_plan, mm_plan


def tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def writing(text: str) -> Callable[[Path], None]:
    def fill(folder: Path) -> None:
        (folder / "order.csv").write_text(text)
        (folder / "plan.json").write_text(json.dumps({"files": ["order.csv"]}))

    return fill


def full_disk(folder: Path) -> None:
    (folder / "order.csv").write_text("half")
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_every_paper_of_a_plan_is_there_and_listed(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "plan"
    files = write_all(contents(inch_plan()), out)
    found = tree(out)
    assert {file.relative_to(out).as_posix() for file in files} == set(found)
    listed = json.loads(found["plan.json"])["files"]
    assert {*listed, "plan.json"} == set(found)
    assert {"report.html", "blanks.csv", "order.csv", "cuts.csv", "plan.json"} < set(found)
    assert {"packet.pdf", "job.xlsx"} < set(found)
    assert not [name for name in found if name.startswith("dxf/")]
    pictures = [name for name in found if name.startswith("sheets/")]
    sheets = [s["file"] for g in json.loads(found["plan.json"])["groups"] for s in g["sheets"]]
    assert sorted(pictures) == sorted(sheets)
    assert [path.name for path in (tmp_path / "deep").iterdir()] == ["plan"]


def test_papers_that_are_asked_for(tmp_path: Path) -> None:
    out = tmp_path / "plan"
    write_all(contents(inch_plan()), out, extras=[Extra.PATTERNS])
    found = tree(out)
    assert "packet.pdf" not in found
    blanks = [blank for group in inch_plan().groups for blank in group.blanks]
    assert sum(name.startswith("dxf/") and name.endswith(".dxf") for name in found) == len(blanks)
    assert {*json.loads(found["plan.json"])["files"], "plan.json"} == set(found)
    write_all(
        contents(mm_plan()), out, force=True, extras=[]
    )  # the old pattern files are known and go
    assert not [name for name in tree(out) if name.startswith("dxf/")]


def test_a_plan_is_replaced_whole_and_only_by_force(tmp_path: Path) -> None:
    out = tmp_path / "plan"
    write_all(contents(inch_plan()), out)
    before = tree(out)
    with pytest.raises(PlanExists, match="already holds a plan"):
        write_all(contents(mm_plan()), out)
    assert tree(out) == before
    write_all(contents(mm_plan()), out, force=True)
    after = tree(out)
    assert json.loads(after["plan.json"])["units"] == "mm"
    assert {*json.loads(after["plan.json"])["files"], "plan.json"} == set(after)
    assert [path.name for path in tmp_path.iterdir()] == ["plan"]


@pytest.mark.parametrize("there", [False, True], ids=["new", "replaced"])
def test_a_full_disk_leaves_everything_as_it_was(tmp_path: Path, there: bool) -> None:
    out = tmp_path / "made" / "plan"
    if there:
        write_folder(out, False, writing("old"))
    before = tree(tmp_path)
    with pytest.raises(CannotWrite) as caught:
        write_folder(out, True, full_disk)
    assert tree(tmp_path) == before
    assert (tmp_path / "made").exists() == there
    message = str(caught.value)
    assert "No space left on device" in message
    assert "Nothing there was changed" in message
    assert "\n" not in message
    assert isinstance(caught.value, TakeoffError)


def test_a_write_that_fails_half_way_through_the_papers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr("takeoff.papers.plots.grey_png", fail)
    with pytest.raises(CannotWrite):
        write_all(contents(inch_plan()), tmp_path / "plan")
    assert list(tmp_path.iterdir()) == []


def test_the_old_plan_comes_back_when_the_new_one_cannot_take_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "plan"
    write_folder(out, False, writing("old"))
    rename = Path.rename

    def fail_for_the_new(self: Path, target: Path) -> Path:
        if target == out.resolve() and "new" in (self / "order.csv").read_text():
            raise OSError(errno.EACCES, os.strerror(errno.EACCES))
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", fail_for_the_new)
    with pytest.raises(CannotWrite, match="Permission denied"):
        write_folder(out, True, writing("new"))
    assert (out / "order.csv").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["plan"]


def test_an_interrupt_leaves_no_half_written_folder(tmp_path: Path) -> None:
    def interrupted(folder: Path) -> None:
        (folder / "order.csv").write_text("half")
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_folder(tmp_path / "a" / "plan", False, interrupted)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_with_other_things_in_it_is_never_replaced(tmp_path: Path) -> None:
    out = tmp_path / "plan"
    write_folder(out, False, writing("old"))
    (out / "notes.txt").write_text("mine")
    for force in (False, True):
        with pytest.raises(PlanExists, match=r"notes\.txt"):
            write_folder(out, force, writing("new"))
    assert (out / "notes.txt").read_text() == "mine"
    assert (out / "order.csv").read_text() == "old"


def test_what_is_no_plan_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_text("mine")
    with pytest.raises(PlanExists, match="is a file"):
        check_free(file, True)
    other = tmp_path / "other"
    other.mkdir()
    (other / "plan.json").write_text("not ours")
    with pytest.raises(PlanExists, match="not of a plan"):
        check_free(other, True)
    assert file.read_text() == "mine"


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    out = tmp_path / "plan"
    out.mkdir()
    write_folder(out, False, writing("new"))
    assert (out / "order.csv").read_text() == "new"
