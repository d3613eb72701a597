"""The order of the house: who may import whom, how long a module may be, lint and types."""

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
LONGEST_MODULE = 400

TAKEOFF = (
    ("cli",),
    ("web",),
    ("storekeeping",),
    ("papers", "compare", "explain"),
    ("drawing", "bill", "layouts", "findings", "uncut"),
    ("nest", "joints", "air"),
    ("withdrawal", "stockroom"),
    ("jobs", "blanks", "connections", "advice"),
    ("fittings",),
    ("edges",),
    ("pattern",),
    ("used", "origins"),
    ("profile", "stock", "prices"),
    ("settings", "supply", "metal_lists"),
    ("rates",),
    ("tables",),
    ("codes",),
    ("materials",),
    ("faults", "limits"),
    ("spelling", "sizes"),
    ("lengths",),
    ("errors", "plural", "ctrl_c"),
)
"""Members of `takeoff`, top to bottom: each may import its own line and those below."""

HEAVY = (
    "numba",
    "ortools",
    "matplotlib",
    "pandas",
    "openpyxl",
    "shapely",
    "rectpack",
    "dask",
    "distributed",
    "starlette",
    "uvicorn",
    "sqlalchemy",
    "alembic",
    "psycopg",
)
"""Imported inside functions only, so that the command starts at once; but for those below."""
KERNELS = ("nesting/kernels", "nesting/exact", "nesting/improve", "nesting/merger.py")
OWN = {
    "web": {"starlette"},
    "stockroom": {"sqlalchemy", "alembic"},
}
"""Members of `takeoff` that may import some at the top: who imports those does it late."""


def modules(package: str) -> list[Path]:
    return sorted((ROOT / package).rglob("*.py"))


def imports(path: Path, everywhere: bool = True) -> Iterator[str]:
    """Absolute names of what a module imports; only at its top level unless `everywhere`."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    package = list(path.relative_to(ROOT).with_suffix("").parts[:-1])
    for node in ast.walk(tree) if everywhere else tree.body:
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            start = ".".join([*base, *([node.module] if node.module else [])])
            yield start
            yield from (f"{start}.{alias.name}" for alias in node.names)


def member(path: Path, package: str) -> str:
    return path.relative_to(ROOT / package).with_suffix("").parts[0]


@pytest.mark.parametrize("path", modules("nesting"), ids=str)
def test_nesting_knows_nothing_of_the_trade(path: Path) -> None:
    assert not any(name.split(".")[0] == "takeoff" for name in imports(path))


@pytest.mark.parametrize("path", modules("takeoff"), ids=str)
def test_imports_go_down_the_house(path: Path) -> None:
    floor = {name: at for at, names in enumerate(TAKEOFF) for name in names}
    here = member(path, "takeoff")
    if here.startswith("__"):
        return
    assert here in floor, f"{here}: give it a place in the list of members"
    for name in imports(path):
        parts = name.split(".")
        if parts[0] == "nesting":
            assert floor[here] <= floor["nest"], f"{path}: only nest and above use the engine"
        if parts[0] == "takeoff" and len(parts) > 1 and parts[1] in floor:
            assert floor[parts[1]] >= floor[here], f"{path} imports {name}, which is above it"


def test_the_checker_shares_nothing_with_the_search() -> None:
    found = {name for name in imports(ROOT / "nesting/checker.py") if name.startswith("nesting")}
    assert {name.split(".")[1] for name in found} <= {"model", "plan", "errors"}


@pytest.mark.parametrize("path", [*modules("nesting"), *modules("takeoff")], ids=str)
def test_heavy_libraries_are_imported_where_they_are_used(path: Path) -> None:
    if str(path.relative_to(ROOT)).startswith(KERNELS):
        return
    inside = path.is_relative_to(ROOT / "takeoff")
    own = OWN.get(member(path, "takeoff"), set()) if inside else set()
    found = [name.split(".") for name in imports(path, everywhere=False)]
    assert not {name[0] for name in found} & set(HEAVY) - own
    if inside and member(path, "takeoff") == "cli":
        assert not any(name[:1] == ["takeoff"] and set(name[1:2]) & set(OWN) for name in found)


@pytest.mark.parametrize(
    "path", [*modules("nesting"), *modules("takeoff"), *modules("tests")], ids=str
)
def test_a_module_can_be_read_in_one_sitting(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_MODULE


def test_the_top_level_holds_what_was_agreed() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if listed.returncode:
        pytest.skip("not a git checkout: there is no list of files to hold against")
    top = {line.split("/")[0] for line in listed.stdout.splitlines()}
    visible = {name for name in top if not name.startswith(".")}
    assert visible == {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "nesting",
        "takeoff",
        "tests",
        "data",
        "notebooks",
    }


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy",)],
    ids=" ".join,
)
def test_lint_and_types(command: tuple[str, ...]) -> None:
    result = subprocess.run(
        [sys.executable, "-m", *command],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "NO_COLOR": "1"},
    )
    assert result.returncode == 0, result.stdout + result.stderr
