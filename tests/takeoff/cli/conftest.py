"""The command for the tests of this folder."""

from pathlib import Path

import pytest

from .command import Command


@pytest.fixture
def command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Command:
    """The command in an empty folder, its output wide enough for a table."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "200")
    return Command(tmp_path, capsys)
