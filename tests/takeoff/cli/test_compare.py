"""`compare`: the table, the files, what is refused, and Ctrl-C in the middle."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from .command import GOOD, HEADING, Command


@pytest.mark.slow
def test_gauges_and_sheets_on_this_machines_cores(command: Command) -> None:
    options = ("--gauges", "24,26", "--sheets", "48x96,20x20", "--seconds", 0.2, "--out", "found")
    outcome = command("compare", command.job(), *options)
    assert (outcome.code, outcome.err) == (0, "")
    for name in ("as written", "24 ga, 48x96", "24 ga, 20x20", "26 ga, 48x96", "26 ga, 20x20"):
        assert name in outcome.out
    assert "D1: arrangement" in outcome.out
    assert "larger than every sheet in stock" in outcome.out
    assert "Written to found: comparison.csv, comparison.png" in outcome.out
    assert {"found/comparison.csv", "found/comparison.png"} <= command.files()
    refused = command("compare", command.job(), *options)
    assert (refused.code, refused.out) == (2, "")
    assert "--force" in refused.err


@pytest.mark.slow
def test_price_lists_say_what_is_missing_and_print_the_rest(command: Command) -> None:
    heading = "material,gauge,stock,width,length,cost\n"
    command.file("a.csv", f"{heading}galv,26,4x8,48,96,40\ngalv,24,4x8,48,96,\n")
    command.file("b.csv", f"{heading}galv,26,4x8,48,96,25\n")
    outcome = command("compare", command.job(), "--prices", "a.csv,b.csv,c.csv", "--seconds", 0.2)
    assert outcome.code == 0
    (cheap,) = [line for line in outcome.out.splitlines() if line.startswith("b.csv ")]
    assert " 25.00 " in cheap
    # 26 ga in 20 in: the code table asks for 24, whoever sells it
    assert "The code table finds all of them too light" in outcome.out
    assert 'a.csv: row 3, column "cost": a blank is no price.' in outcome.out
    assert "c.csv: the stock list cannot be read" in outcome.out
    assert "c.csv has no sheet of galvanized 26 ga" in outcome.out


@pytest.mark.parametrize(
    ("option", "value", "told"),
    [
        ("--gauges", "thin", '"thin" is not a gauge'),
        ("--materials", "galv,tin", '"tin" is not a metal known here'),
        ("--sheets", "48", '"48" is not a sheet size'),
        ("--address", "nonsense://x", "No cluster answers at nonsense://x"),
        ("--seconds", "0", "0 is not more than 0"),
    ],
)
def test_options_that_mean_nothing(command: Command, option: str, value: str, told: str) -> None:
    outcome = command("compare", command.job(), option, value)
    assert outcome.code == 2
    assert outcome.out == ""
    assert told in outcome.err


@pytest.mark.slow
@pytest.mark.skipif(os.name != "posix", reason="sends a POSIX signal")
def test_ctrl_c_prints_the_rows_finished_so_far(tmp_path: Path) -> None:
    job = tmp_path / "job.csv"
    job.write_text(HEADING + GOOD, encoding="utf-8")
    marker = tmp_path / "finished"
    program = (
        "import takeoff.compare.cluster as cluster\n"
        "from pathlib import Path\n"
        "work_all = cluster.work_all\n"
        "def seen(client, tasks):\n"
        "    for outcome in work_all(client, tasks):\n"
        "        yield outcome\n"
        f"        Path({str(marker)!r}).touch()\n"
        "cluster.work_all = seen\n"
        "from takeoff.cli.main import run\n"
        "if __name__ == '__main__': run()\n"
    )
    script = tmp_path / "program.py"
    script.write_text(program, encoding="utf-8")
    gauges = ",".join(map(str, range(16, 31)))
    options = ["--gauges", gauges, "--sheets", "48x96,48x120,60x120,36x96", "--seconds", "3"]
    process = subprocess.Popen(
        [sys.executable, str(script), "compare", str(job), *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env={**os.environ, "COLUMNS": "200", "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    try:
        started = time.monotonic()
        while not marker.exists() and process.poll() is None:
            assert time.monotonic() - started < 90, "no choice was ever finished"
            time.sleep(0.05)
        os.killpg(process.pid, signal.SIGINT)  # as a terminal does: to the workers too
        out, err = process.communicate(timeout=60)
    finally:
        process.kill()
    assert process.returncode == 130, err
    assert "Stopped by Ctrl-C: these are the choices finished until then." in err
    assert "Traceback" not in err
    assert "choices were not finished." in out
    assert " ga" in out or "as written" in out
