"""The page from the command line: where it listens, and what outlasts a restart."""

import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2
import pytest

from .command import Command

ROOT = Path(__file__).parents[3]


@contextmanager
def served(home: Path) -> Iterator[httpx2.Client]:
    """The command on a free port, ended by Ctrl-C."""
    room = home / "room.db"
    command = [sys.executable, "-m", "takeoff", "serve", "--port", "0", "--room", str(room)]
    environment = {**os.environ, "HOME": str(home), "XDG_DATA_HOME": str(home / "data")}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=ROOT,
        env=environment | {"PYTHONUNBUFFERED": "1"},
    ) as process:  # fmt: skip
        try:
            told = ""
            while not (found := re.search(r"Open (http://127\.0\.0\.1:\d+)/ ", told)):
                line = process.stdout.readline() if process.stdout else ""
                assert line, told
                told += line
            with httpx2.Client(base_url=found[1], follow_redirects=True) as client:
                yield client
        finally:
            process.send_signal(signal.SIGINT)
            process.wait(15)


@pytest.mark.slow
def test_jobs_and_sessions_outlast_a_restart(tmp_path: Path) -> None:
    with served(tmp_path) as client:
        page = client.get("/")
        assert page.status_code == 200
        token = re.findall(r'name="_csrf" value="([^"]+)"', page.text)[0]
        client.post("/jobs", data={"name": "Elm Street", "_csrf": token})
        cookies = dict(client.cookies)
    with served(tmp_path) as client:
        client.cookies.update(cookies)
        assert "Elm Street" in client.get("/jobs").text
        sent = client.post("/jobs/1/copy", data={"_csrf": token})
        assert "Elm Street, copied" in sent.text
    (key,) = (tmp_path / "data").rglob("sessions.key")
    assert key.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.5", "example.org", "::"])
def test_no_other_computer_reaches_it(command: Command, host: str) -> None:
    outcome = command("serve", "--host", host)
    assert outcome.code == 2
    assert "is not an address of this computer alone" in outcome.err
