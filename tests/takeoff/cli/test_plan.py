"""`plan`: a folder of papers, whole, and the exit code that goes with it."""

import csv
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from .command import DATA, GOOD, HEADING, Command

TABLES = {"blanks.csv", "order.csv", "cuts.csv", "plan.json", "report.html"}


def test_a_plan_of_the_demo(command: Command) -> None:
    arguments = ("plan", DATA / "bakery.csv", "--stock", DATA / "stock.csv", "--out", "plan")
    outcome = command(*arguments, "--seconds", 1)
    assert outcome.code == 0
    assert outcome.err == ""
    assert "Quayside bakery" in outcome.out
    assert "Written to plan: report.html" in outcome.out
    assert {f"plan/{name}" for name in TABLES} <= command.files()
    assert any(name.startswith("plan/sheets/01-") for name in command.files())
    assert not [name for name in command.files() if name.startswith(".")]
    with Path("plan/blanks.csv").open(encoding="utf-8", newline="") as file:
        assert sum(int(row["qty"]) for row in csv.DictReader(file)) == 46
    groups = json.loads(Path("plan/plan.json").read_text(encoding="utf-8"))["groups"]
    assert [group["gauge"] for group in groups] == [24, 26, 22]


def test_packet_and_patterns_are_written_as_asked(command: Command) -> None:
    asked = ("plan", command.job(), "--seconds", 0.2, "--no-packet", "--patterns", "--out", "plan")
    assert command(*asked).code == 0
    found = command.files()
    assert "plan/packet.pdf" not in found
    assert {"plan/dxf/D1-wrap.dxf", "plan/dxf/D1-wrap.svg", "plan/job.xlsx"} <= found


def test_a_plan_is_replaced_only_by_force(command: Command) -> None:
    arguments = ("plan", command.job(), "--out", "plan", "--seconds", 0.2)
    assert command(*arguments).code == 0
    before = Path("plan/blanks.csv").read_bytes()
    refused = command(*arguments)
    assert (refused.code, refused.out) == (2, "")
    assert "--force" in refused.err
    assert Path("plan/blanks.csv").read_bytes() == before
    command.job(GOOD.replace("D1", "D9"))
    assert command(*arguments, "--force").code == 0
    assert b"D9 wrap" in Path("plan/blanks.csv").read_bytes()


def test_a_comparison_with_another_packer(command: Command) -> None:
    outcome = command("plan", command.job(), "--out", "plan", "--seconds", 0.2, "--compare")
    assert outcome.code == 0
    assert "rectpack's best takes 1 sheet" in outcome.out


def test_blanks_that_the_stock_has_no_room_for(command: Command) -> None:
    stock = command.file("stock.csv", "material,gauge,stock,width,length,qty\ngalv,26,a,60,48,1\n")
    job = command.job(GOOD + GOOD.replace("D1", "D2"))
    outcome = command("plan", job, "--out", "plan", "--stock", stock, "--seconds", 0.2)
    assert outcome.code == 1
    assert outcome.err.startswith("Left over: 1 x D")
    assert "plan/plan.json" in command.files()


def test_formulas_are_written_as_text(command: Command) -> None:
    job = command.job("=D1,duct,26,=1+1,20,,8,47,,,\n")
    assert command("plan", job, "--out", "plan", "--seconds", 0.2).code == 0
    assert "\n'=D1" in Path("plan/blanks.csv").read_text(encoding="utf-8")


def test_seconds_and_seed_reach_the_engine(
    command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[object, ...]] = []

    def note(*arguments: object, **_: object) -> None:
        asked.append(arguments[4:6])
        raise KeyboardInterrupt

    monkeypatch.setattr("takeoff.nest.nest_job", note)
    outcome = command("plan", command.job(), "--out", "plan", "--seconds", 1.5, "--seed", 7)
    assert asked == [(1.5, 7)]
    assert (outcome.code, outcome.err) == (130, "Stopped. Nothing was written.\n")
    assert command.files() == {"job.csv"}


@pytest.mark.skipif(os.name != "posix", reason="sends a POSIX signal")
def test_ctrl_c_while_nesting_writes_the_best_plan_so_far(tmp_path: Path) -> None:
    rows = "".join(
        f"D{n},duct,{24 + n % 3},,{9 + n % 17},,{6 + n % 5},{30 + n % 19},,,\n" for n in range(36)
    )
    job = tmp_path / "job.csv"
    job.write_text(HEADING + rows.replace(",25,,", ",22,,"), encoding="utf-8")
    marker = tmp_path / "nesting"
    program = (
        "import sys, takeoff.cli.progress as progress\n"
        "from pathlib import Path\n"
        "show = progress.NestProgress.__call__\n"
        "def seen(self, metal, event):\n"
        "    if getattr(event, 'phase', '') == 'search':\n"
        f"        Path({str(marker)!r}).touch()\n"
        "    show(self, metal, event)\n"
        "progress.NestProgress.__call__ = seen\n"
        "from takeoff.cli.main import run\n"
        "run()\n"
    )
    arguments = ["plan", str(job), "--out", str(tmp_path / "plan"), "--seconds", "120"]
    process = subprocess.Popen(
        [sys.executable, "-c", program, *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        started = time.monotonic()
        while not marker.exists() and process.poll() is None:
            assert time.monotonic() - started < 90, "the search never began"
            time.sleep(0.05)
        time.sleep(0.3)
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=90)
    finally:
        process.kill()
    assert process.returncode == 0, err
    assert "Stopped by Ctrl-C: this is the best plan found until then, written whole." in out
    written = json.loads((tmp_path / "plan" / "plan.json").read_text(encoding="utf-8"))
    assert len(written["groups"]) == 3
    with (tmp_path / "plan" / "blanks.csv").open(encoding="utf-8", newline="") as file:
        wanted = sum(int(row["qty"]) for row in csv.DictReader(file))
    placed = sum(
        len(sheet["parts"]) * sheet["count"] for g in written["groups"] for sheet in g["sheets"]
    )
    assert placed == wanted


def test_what_the_air_check_finds_is_told_with_the_plan(command: Command, tmp_path: Path) -> None:
    job = tmp_path / "job.csv"
    job.write_text(
        "mark,fitting,gauge,width,depth,height,openings,cfm\n"
        "RB1,return box,24,20,26,18,front 12 x 8,1200\n"
    )
    outcome = command("plan", job, "--out", tmp_path / "out", "--seconds", "0.5", "--no-packet")
    assert outcome.code == 0, outcome.err
    # 1200 x 144 / (12 x 8) = 1800 fpm
    assert "The return RB1 starves" in outcome.out
    assert "1,800 fpm" in outcome.out
    assert "The return RB1 starves" in (tmp_path / "out" / "report.html").read_text()
