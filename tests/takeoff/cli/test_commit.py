"""From a plan with the rack to the cut: commit, refuse, plan again, cut, release, undo."""

import json
import random
import time
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from takeoff.stockroom import NewOffcut, OffcutState, open_room

from .command import Command

HEADING = "mark,fitting,qty,material,gauge,width,height\n"
JOB = HEADING + "C1,end cap,7,galv,26,30,30\n"
STOCK = "material,gauge,stock,width,length,cost,qty\ngalv,26,4 x 8,48,96,36.00,\n"
QUICK = ("--no-packet", "--seconds", 0.5)


class Shop:
    """A job, a stock list and a stock room in the folder of a test."""

    def __init__(self, command: Command, place: Path) -> None:
        self.command, self.place = command, place
        self.job = command.file("caps.csv", JOB)
        self.stock = command.file("stock.csv", STOCK)

    def offcuts(self, *sizes: tuple[object, object], gauge: int = 26) -> None:
        for width, length in sizes:
            assert self.command("rack", "add", "galv", gauge, width, length).code == 0

    def plan(self, folder: str, draw: str = "offcuts") -> dict[str, Any]:
        outcome = self.command(
            *("plan", self.job, "--stock", self.stock, "--out", folder, "--draw", draw, *QUICK)
        )
        assert outcome.code == 0, outcome.err
        document: dict[str, Any] = json.loads(Path(folder, "plan.json").read_text(encoding="utf-8"))
        return document

    def states(self) -> dict[str, OffcutState]:
        """Every offcut that ever was, and that the room is sound."""
        with open_room(self.place) as room:
            assert room.audit() == ()
            return {offcut.label: offcut.state for offcut in room.rack.all(tuple(OffcutState))}


@pytest.fixture
def shop(command: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    place = tmp_path / "room.db"
    monkeypatch.setenv("BLANKWRIGHT_ROOM", str(place))
    return Shop(command, place)


def test_plan_commit_cut_and_the_next_job_takes_what_was_kept(shop: Shop) -> None:
    command = shop.command
    shop.offcuts((33, 66), (33, 33), (20, 20))
    # 7 blanks of 32 x 32: two and one on the offcuts, a sheet takes three, one more sheet the last
    document = shop.plan("first")
    assert document["bought"] == 72.0
    assert [line["qty"] for line in document["order"]] == [2]
    taken = sorted(p["label"] for line in document["from_stock"] for p in line["pieces"])
    assert taken == ["R-000001", "R-000002"]
    assert set(shop.states().values()) == {OffcutState.ON_RACK}  # a plan reserves nothing

    committed = command("commit", "first")
    assert (committed.code, committed.err) == (0, "")
    assert "Reserved: 2 offcuts, 0 sheets on hand." in committed.out
    assert shop.states()["R-000001"] is OffcutState.RESERVED
    assert "reserved, caps" in command("rack", "list").out

    cut = command("cut", "first", "--place", "bay 5", "--labels", "labels.pdf")
    assert cut.code == 0
    kept = document["kept"]
    wanted = sorted(tuple(line["sides"]) for line in kept for _ in range(line["qty"]))
    states = shop.states()
    assert states["R-000001"] is states["R-000002"] is OffcutState.USED
    with open_room(shop.place) as room:
        fresh = [offcut for offcut in room.rack.all() if offcut.plan]
        assert sorted((str(offcut.width), str(offcut.length)) for offcut in fresh) == wanted
        assert {offcut.place for offcut in fresh} == {"bay 5"}
    for offcut in fresh:
        assert f"offcut {offcut.sheet} is {offcut.label}" in cut.out
    assert f"{len(fresh)} labels" in cut.out
    text = "".join(page.extract_text() for page in PdfReader("labels.pdf").pages)
    assert fresh[0].label in text

    # a second job of one cap is cut from what the first one left
    largest = max(fresh, key=lambda offcut: offcut.width * offcut.length)
    assert min(largest.width, largest.length) >= 32
    shop.job.write_text(HEADING + "C9,end cap,1,galv,26,30,30\n", encoding="utf-8")
    second = shop.plan("second")
    assert (second["bought"], second["order"]) == (0, [])
    assert {p["label"] for line in second["from_stock"] for p in line["pieces"]} <= {
        offcut.label for offcut in fresh
    }

    # undone, all is as it was before the cut; undone again, before the commit
    assert "cut for plan" in command("undo").out
    states = shop.states()
    assert states["R-000001"] is OffcutState.RESERVED
    assert states[fresh[0].label] is OffcutState.TAKEN_BACK
    assert "reserve for plan" in command("undo").out
    assert shop.states()["R-000001"] is OffcutState.ON_RACK
    refused = command("commit", "second")
    assert refused.code == 2
    assert "taken back" in refused.err


def test_committing_twice_changes_nothing(shop: Shop) -> None:
    shop.offcuts((33, 66))
    shop.plan("plan")
    assert shop.command("commit", "plan").code == 0
    again = shop.command("commit", "plan")
    assert again.code == 0
    assert "was reserved before, by step 2." in again.out
    with open_room(shop.place) as room:
        assert len(room.steps()) == 2


def test_a_plan_whose_metal_is_gone_is_refused_with_a_list_and_made_again(shop: Shop) -> None:
    command = shop.command
    shop.offcuts((33, 66), (33, 33), (40, 40))
    shop.plan("mine")
    shop.plan("theirs")
    assert command("commit", "theirs").code == 0
    refused = command("commit", "mine")
    assert (refused.code, refused.out) == (2, "")
    assert "no longer free:\n" in refused.err
    assert 'R-000001: reserved for plan "caps"' in refused.err
    assert "R-000003: reserved" in refused.err
    assert "  blankwright plan " in refused.err
    assert "--replan" in refused.err
    with open_room(shop.place) as room:
        assert len(room.steps()) == 4  # three added, one committed; nothing of the refused one
    shop.offcuts((34, 34))
    again = command("commit", "mine", "--replan")
    assert again.code == 0, again.err
    assert "Planning again." in again.err
    assert "Reserved: 1 offcut," in again.out
    assert shop.states()["R-000004"] is OffcutState.RESERVED


def test_a_plan_that_was_moved_is_made_again_where_it_lies(shop: Shop) -> None:
    shop.offcuts((33, 66), (33, 33))
    shop.plan("mine")
    Path("mine").rename("moved")
    assert shop.command("rack", "scrap", "R-000001").code == 0
    again = shop.command("commit", "moved", "--replan")
    assert again.code == 0, again.err
    assert "Reserved: 1 offcut," in again.out
    assert not Path("mine").exists()


def test_no_other_command_of_a_plan_file_is_run(shop: Shop) -> None:
    shop.offcuts((33, 66))
    shop.plan("mine")
    assert shop.command("rack", "scrap", "R-000001").code == 0
    path = Path("mine/plan.json")
    document = json.loads(path.read_text(encoding="utf-8"))
    document["room"]["again"] = ["undo"]
    path.write_text(json.dumps(document), encoding="utf-8")
    refused = shop.command("commit", "mine", "--replan")
    assert refused.code == 2
    assert refused.err.endswith("Plan again.\n")
    assert shop.states()["R-000001"] is OffcutState.SCRAPPED


def test_what_the_advice_says_can_be_typed(shop: Shop) -> None:
    import shlex  # noqa: PLC0415

    shop.offcuts((33, 66))
    shop.plan("mine")
    assert shop.command("rack", "scrap", "R-000001").code == 0
    refused = shop.command("commit", "mine")
    assert "R-000001: scrapped" in refused.err
    (line,) = [each for each in refused.err.splitlines() if each.startswith("  blankwright ")]
    assert shop.command(*shlex.split(line)[1:]).code == 0
    assert shop.command("commit", "mine").code == 0


def test_cut_and_release_need_a_commit(shop: Shop) -> None:
    command = shop.command
    shop.offcuts((33, 66))
    shop.plan("plan")
    for name in ("cut", "release"):
        refused = command(name, "plan")
        assert (refused.code, refused.out) == (2, "")
        assert "commit it first" in refused.err
    assert command("commit", "plan").code == 0
    released = command("release", "plan", "--note", "job is off")
    assert 'Step 3, release for plan "caps": R-000001.' in released.out
    assert shop.states()["R-000001"] is OffcutState.ON_RACK
    twice = command("release", "plan")
    assert twice.code == 2
    assert "nothing is reserved" in twice.err
    assert command("commit", "plan").code == 0
    assert command("cut", "plan").code == 0
    again = command("cut", "plan")
    assert again.code == 2
    assert "cut already" in again.err


def test_undo_of_what_stands_under_a_later_step_is_refused(shop: Shop) -> None:
    shop.offcuts((33, 66))
    shop.plan("plan")
    assert shop.command("commit", "plan").code == 0
    refused = shop.command("undo", 1)
    assert refused.code == 2
    assert "R-000001" in refused.err
    assert shop.command("undo").code == 0
    assert shop.command("undo", 1).code == 0
    assert shop.command("undo").code == 2


def test_sheets_on_hand_go_first_and_leave_with_the_cut(shop: Shop) -> None:
    command = shop.command
    command("stock", "add", "galv", 26, "4 x 8", 48, 96, "--qty", 2, "--price", 35)
    document = shop.plan("plan", draw="all")
    assert document["bought"] == 36.0
    (line,) = document["from_stock"]
    assert (line["key"], line["qty"], line["cost"]) == ("4 x 8", 2, 70.0)
    assert "2 sheets on hand" in command("commit", "plan").out
    assert "0 free" in command("stock", "add", "galv", 26, "4 x 8", 48, 96, "--qty", 0).out
    short = command("stock", "count", "galv", 26, "4 x 8", 1)
    assert short.code == 2
    assert "reserved" in short.err
    assert command("cut", "plan").code == 0
    with open_room(shop.place) as room:
        (kind,) = room.sheets.all()
        assert (kind.on_hand, kind.reserved) == (0, 0)


def test_without_a_stock_list_the_room_tells_what_is_bought(shop: Shop) -> None:
    command = shop.command
    command("stock", "add", "galv", 26, "by the bay", 48, 96, "--qty", 0, "--price", 30)
    asked = ("plan", shop.job, "--out", "plan", "--draw", "offcuts", *QUICK)
    done = command(*asked)
    assert done.code == 0
    document = json.loads(Path("plan/plan.json").read_text(encoding="utf-8"))
    assert {line["stock"] for line in document["order"]} == {"by the bay"}
    told = "New sheets of galvanized 26 ga are bought in the sizes that the stock room lists"
    assert told in " ".join(done.out.split())
    assert told in Path("plan/report.html").read_text(encoding="utf-8")
    given = command(*asked, "--stock", shop.stock, "--force")
    assert given.code == 0
    assert "that the stock room lists" not in " ".join(given.out.split())
    assert document["cost"] == 90.0


def test_a_plan_without_the_room_may_fill_the_rack(shop: Shop) -> None:
    command = shop.command
    asked = ("plan", shop.job, "--stock", shop.stock, "--out", "plan", *QUICK)
    assert command(*asked).code == 0
    assert "plan/from_stock.csv" not in command.files()
    assert command("commit", "plan").code == 0
    assert command("cut", "plan").code == 0
    with open_room(shop.place) as room:
        kept = sum(offcut.width * offcut.length for offcut in room.rack.all())
    # three sheets of 48 x 96; seven blanks of 32 x 32; the rest is kept but for what is scrap
    assert 0 < kept <= 3 * 48 * 96 - 7 * 32 * 32
    document = json.loads(Path("plan/plan.json").read_text(encoding="utf-8"))
    listed = sum(
        Fraction(line["sides"][0]) * Fraction(line["sides"][1]) * line["qty"]
        for line in document["kept"]
    )
    assert kept == listed


def test_folders_that_hold_no_plan_that_can_be_committed(shop: Shop) -> None:
    command = shop.command
    shop.offcuts((33, 66))
    missing = command("commit", "nowhere")
    assert missing.code == 2
    assert "Give the folder that `blankwright plan` wrote" in missing.err
    shop.plan("plan")
    path = Path("plan/plan.json")
    document = json.loads(path.read_text(encoding="utf-8"))
    for change, told in (
        ({"version": 3}, "another version"),
        ({"schema": "else"}, "not a plan"),
        ({"kept": [{"sides": ["1/0", "2"]}]}, "is damaged"),
    ):
        path.write_text(json.dumps({**document, **change}), encoding="utf-8")
        outcome = command("commit", "plan")
        assert outcome.code == 2
        assert told in outcome.err
    path.write_text("{", encoding="utf-8")
    assert "is damaged" in command("cut", "plan").err


def test_a_plan_belongs_to_its_stock_room(shop: Shop) -> None:
    command = shop.command
    shop.offcuts((33, 66))
    shop.plan("plan")
    assert command("rack", "add", "galv", 26, 33, 66, "--room", "other.db").code == 0
    refused = command("commit", "plan", "--room", "other.db")
    assert refused.code == 2
    assert "draws on the stock room" in refused.err
    # the same room under another name is the same room
    assert command("commit", "plan", "--room", "./room.db").code == 0


@pytest.mark.slow
def test_a_plan_against_fifty_thousand_offcuts_takes_seconds(shop: Shop) -> None:
    rng = random.Random(11)
    pieces = [
        NewOffcut(
            "galvanized",
            rng.choice([22, 24, 26]),
            Fraction(rng.randint(96, 768), 16),
            Fraction(rng.randint(160, 1500), 16),
            f"bay {rng.randint(1, 90)}",
        )
        for _ in range(50_000)
    ]
    with open_room(shop.place) as room:
        room.rack.add(pieces)
    started = time.monotonic()
    document = shop.plan("plan")
    spent = time.monotonic() - started
    assert document["bought"] == 0
    assert sum(line["qty"] for line in document["from_stock"]) < 7
    assert spent < 30
    assert shop.command("commit", "plan").code == 0
    assert shop.command("cut", "plan").code == 0


def test_a_room_that_nothing_is_drawn_from_is_a_slip(shop: Shop) -> None:
    refused = shop.command("plan", shop.job, "--out", "plan", "--room", "room.db")
    assert refused.code == 2
    assert "--draw offcuts" in refused.err
    absent = shop.command("plan", shop.job, "--out", "plan", "--draw", "all")
    assert absent.code == 2
    assert "There is no stock room" in absent.err
    assert shop.command.files() == {"caps.csv", "stock.csv"}
