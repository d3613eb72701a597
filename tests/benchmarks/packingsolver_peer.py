"""The PyPI package packingsolver as a peer, in an environment of its own (it wants Python 3.12).

python3.12 -m venv peer && peer/bin/pip install packingsolver
PACKINGSOLVER_PYTHON=peer/bin/python python -m tests.benchmarks.quality --packingsolver 2 ...
"""

import json
import os
import subprocess
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

from nesting import Problem

WORKER = Path(__file__).with_name("packingsolver_worker.py")
VARIABLE = "PACKINGSOLVER_PYTHON"


class NoPeer(RuntimeError):
    """The other interpreter is not named, or does not have the package."""


@dataclass(frozen=True)
class PeerResult:
    """What the peer found; `cost` counts only where it placed every blank."""

    complete: bool
    sheets: int
    cost: float
    bound: float


class Peer:
    """A worker process; use it as a context manager.

    Args:
        interpreter: a Python with packingsolver; None: taken from PACKINGSOLVER_PYTHON.

    Raises:
        NoPeer: there is no such interpreter.
    """

    def __init__(self, interpreter: str | None = None) -> None:
        named = interpreter or os.environ.get(VARIABLE)
        if not named:
            raise NoPeer(f"name a Python that has packingsolver in {VARIABLE}")
        clean = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
        try:
            self._worker = subprocess.Popen(
                [named, str(WORKER)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
                env=clean,
            )
        except OSError as error:
            raise NoPeer(f"{named} does not start: {error}") from error

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._worker.communicate()

    def solve(self, problem: Problem, seconds: float) -> PeerResult:
        """What it reaches in that time.

        Raises:
            NoPeer: it ended without an answer.
            ValueError: the problem has a kerf, trim, coil or filler, which are not passed on.
        """
        question = json.dumps(_question(problem, seconds))
        assert self._worker.stdin is not None
        assert self._worker.stdout is not None
        try:
            self._worker.stdin.write(question + "\n")
            self._worker.stdin.flush()
        except BrokenPipeError as error:
            raise NoPeer("the interpreter named does not run packingsolver") from error
        answer = self._worker.stdout.readline()
        if not answer:
            raise NoPeer("the interpreter named does not run packingsolver")
        return PeerResult(**json.loads(answer))


def _question(problem: Problem, seconds: float) -> dict:
    coil = any(stock.kind == "coil" for stock in problem.stock)
    if problem.kerf or problem.trim or coil or any(blank.filler for blank in problem.blanks):
        raise ValueError("the peer is asked without kerf, trim, coil or fillers only")
    return {
        "seconds": seconds,
        "items": [[b.width, b.length, b.qty, b.turn] for b in problem.blanks],
        "stock": [[s.width, s.length, s.cost, s.qty] for s in problem.stock],
    }
