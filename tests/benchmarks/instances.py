"""Published benchmark sets as problems; the README beside them tells their origin."""

import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from nesting import Blank, Problem, Stock

FOLDER = Path(
    os.environ.get("NESTING_BENCHMARKS")
    or Path(__file__).resolve().parents[3] / "shared" / "benchmarks"
)
FILES = {
    "one_size": "bin_packing_one_size.jsonl",
    "limited": "several_sizes_limited.jsonl",
    "random": "several_sizes_random.jsonl",
    "clustered": "several_sizes_clustered.jsonl",
    "zero_waste": "zero_waste.jsonl",
}


@dataclass(frozen=True)
class Instance:
    """One line of a set: its name, the class that published results are given by, the problem."""

    name: str
    group: str
    problem: Problem


def instances(name: str, turn: bool) -> Iterator[Instance]:
    """The instances of a set, in the order of its file; `turn`: blanks may be turned.

    Raises:
        FileNotFoundError: the folder of the sets is not there.
    """
    with (FOLDER / FILES[name]).open(encoding="utf-8") as lines:
        for line in lines:
            row = json.loads(line)
            yield Instance(row["name"], _group(name, row), _problem(row, turn))


def _group(name: str, row: dict) -> str:
    if name == "clustered":
        return f"{row['class']} {row['n']}"
    return str(row.get("class", row["name"][:2]))


def _problem(row: dict, turn: bool) -> Problem:
    return Problem(
        blanks=[
            Blank(f"i{i}", w, n, qty=qty, turn=turn) for i, (w, n, qty) in enumerate(row["items"])
        ],
        stock=[
            Stock(f"s{i}", w, n, float(cost), qty)
            for i, (w, n, cost, qty) in enumerate(row["stock"])
        ],
    )
