"""Every notebook runs, and what is stored in it is what running it gives."""

import os
import sys
from pathlib import Path
from tempfile import gettempdir

import nbformat
import pytest
from nbclient import NotebookClient
from nbformat import NotebookNode

ROOT = Path(__file__).parents[1]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
VARIES = "varies"
"""Tag of a cell whose outcome depends on how fast the machine is."""


def read(path: Path) -> NotebookNode:
    return nbformat.read(path, as_version=4)


def texts(cell: NotebookNode) -> list[str]:
    """What a cell printed or showed as text."""
    return [
        str(output.get("text") or output.get("data", {}).get("text/plain"))
        for output in cell.outputs
    ]


def test_there_are_notebooks() -> None:
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_it_runs_and_shows_what_is_stored(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here = os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH", "")]))
    monkeypatch.setenv("PYTHONPATH", here)
    stored, fresh = read(path), read(path)
    NotebookClient(fresh, timeout=300, resources={"metadata": {"path": str(path.parent)}}).execute()
    compared = 0
    for old, new in zip(stored.cells, fresh.cells, strict=True):
        if old.cell_type == "code" and VARIES not in old.metadata.get("tags", ()):
            assert texts(new) == texts(old), f"run the notebook again: {old.source}"
            compared += len(texts(old))
    assert compared


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_it_is_stored_whole_and_clean(path: Path) -> None:
    notebook = read(path)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert [cell.execution_count for cell in code] == [*range(1, len(code) + 1)]
    assert all(cell.outputs for cell in code)
    assert not [output for cell in code for output in cell.outputs if output.output_type == "error"]
    assert set(notebook.metadata) == {"kernelspec", "language_info"}
    assert all(set(cell.metadata) <= {"tags"} for cell in notebook.cells)
    words = path.read_text(encoding="utf-8")
    places = (str(ROOT), str(Path.home()), gettempdir(), sys.prefix, "/home/", "/Users/", "file://")
    assert not [place for place in places if place in words]
