"""Several processes at one stock room at the same time; one of them killed. Also by hand:

python -m tests.takeoff.stockroom.crowd --help
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import random
import signal
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from fractions import Fraction
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerContext
from multiprocessing.synchronize import Barrier
from pathlib import Path
from time import monotonic, sleep

import sqlalchemy as sa

from takeoff.stockroom import (
    Needs,
    NewOffcut,
    OffcutState,
    PiecesGone,
    PlanState,
    Room,
    SheetNeed,
    open_room,
)

from .samples import G26, STRIP
from .servers import empty, server

KEPT = NewOffcut("galvanized", 26, Fraction(6), Fraction(40))
DRIVERS = [
    "sqlalchemy.dialects.sqlite.pysqlite",
    "sqlalchemy.dialects.postgresql.psycopg",
    "psycopg",
]
PIECES = 4
"""Offcuts that are new in a round."""


@dataclass
class Tally:
    """What came of the rounds or the kills."""

    done: int = 0
    outcomes: Counter[str] = field(default_factory=Counter)
    seconds: float = 0.0

    def __str__(self) -> str:
        told = ", ".join(f"{count} {name}" for name, count in sorted(self.outcomes.items()))
        return f"{self.done} in {self.seconds:.0f} s: {told}"


def processes() -> ForkServerContext:
    """Fresh processes that start at once."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([__name__, *DRIVERS])
    return context


# Rounds: all want the same pieces.


def worker(place: str, pipe: Connection, start: Barrier) -> None:
    """Commit, and then cut or release, whatever comes down the pipe."""
    with open_room(place, f"worker {os.getpid()}") as room:
        pipe.send("ready")
        for key, needs, ending in iter(pipe.recv, None):
            start.wait()
            try:
                room.plans.commit(key, f"plan {key}", needs)
                outcome = "committed"
            except PiecesGone as error:
                outcome = "refused"
                assert error.gone
            pipe.send(outcome)
            pipe.recv()
            if outcome == "committed":
                start_ending(room, key, ending)
            pipe.send("ended")
    pipe.close()


def start_ending(room: Room, key: str, ending: str) -> None:
    """Cut a plan, which leaves an offcut, or release it."""
    if ending == "cut":
        room.plans.cut(key, [KEPT])
    else:
        room.plans.release(key)


@contextmanager
def workers(place: str, count: int) -> Iterator[list[Connection]]:
    """The near ends of the pipes of that many workers, all ready."""
    context = processes()
    start = context.Barrier(count)
    pipes, started = [], []
    for _ in range(count):
        near, far = context.Pipe()
        process = context.Process(target=worker, args=(place, far, start), daemon=True)
        process.start()
        far.close()
        pipes.append(near)
        started.append(process)
    try:
        assert [pipe.recv() for pipe in pipes] == ["ready"] * count
        yield pipes
    finally:
        for pipe in pipes:
            pipe.send(None)
            pipe.close()
        for process in started:
            process.join(20)
            process.close()


def rounds(place: str, count: int, rounds_asked: int, seed: int = 0) -> Tally:
    """Let processes want the same pieces, many times over; hold the outcome to what must be."""
    chance, tally, began = random.Random(seed), Tally(), monotonic()
    with open_room(place) as room, workers(place, count) as pipes:
        room.sheets.add(G26, Fraction(48), Fraction(96), count)
        for number in range(rounds_asked):
            labels = room.rack.add([STRIP] * PIECES).labels
            room.sheets.count(G26, count)
            wanted = [_wants(chance, labels) for _ in pipes]
            endings = [chance.choice(("cut", "release")) for _ in pipes]
            before = {offcut.label for offcut in room.rack.free()}
            for who, pipe in enumerate(pipes):
                pipe.send((f"{number}.{who}", wanted[who], endings[who]))
            outcomes = [pipe.recv() for pipe in pipes]
            won = [who for who, outcome in enumerate(outcomes) if outcome == "committed"]
            _hold_promises(room, before, [wanted[who] for who in won])
            for pipe in pipes:
                pipe.send("end it")
            assert [pipe.recv() for pipe in pipes] == ["ended"] * count
            cut = [wanted[who] for who in won if endings[who] == "cut"]
            _hold_endings(room, before, cut, count)
            room.rack.scrap([offcut.label for offcut in room.rack.free()])
            tally.done += 1
            tally.outcomes.update(outcomes)
    tally.seconds = monotonic() - began
    return tally


def _wants(chance: random.Random, labels: tuple[str, ...]) -> Needs:
    sheets = (SheetNeed(G26, chance.randint(1, 2)),)
    return Needs(sheets, tuple(chance.sample(labels, chance.randint(1, 3))))


def _hold_promises(room: Room, before: set[str], won: list[Needs]) -> None:
    promised = [label for needs in won for label in needs.offcuts]
    assert won, "somebody gets what he wants"
    assert len(promised) == len(set(promised)), "a piece is promised twice"
    now = {offcut.label: offcut.state for offcut in room.rack.all()}
    assert set(now) == before, "a piece is lost"
    held = {label for label, state in now.items() if state is OffcutState.RESERVED}
    assert held == set(promised)
    assert room.sheets.get(G26).reserved == sum(need.qty for each in won for need in each.sheets)
    assert room.audit() == ()


def _hold_endings(room: Room, before: set[str], cut: list[Needs], sheets: int) -> None:
    gone = {label for needs in cut for label in needs.offcuts}
    free = {offcut.label for offcut in room.rack.free()}
    assert before - free == gone
    assert len(free - before) == len(cut), "each cut leaves one piece"
    kind = room.sheets.get(G26)
    taken = sum(need.qty for each in cut for need in each.sheets)
    assert (kind.on_hand, kind.reserved) == (sheets - taken, 0)
    assert room.audit() == ()


# Kills: one works, and is killed somewhere in it.


def victim(place: str, pipe: Connection, round_: int, labels: tuple[str, ...], at: int) -> None:
    """Commit and cut; say what is done. Killed by itself before its statement `at`, if any."""
    with open_room(place, "victim") as room:
        if at:
            _die_at(room, at)
        pipe.send("ready")
        key = f"kill {round_}"
        room.plans.commit(key, key, Needs((SheetNeed(G26, 1),), labels))
        pipe.send("committed")
        room.plans.cut(key, [KEPT] * 2)
        pipe.send("cut")
        pipe.recv()


def _die_at(room: Room, at: int) -> None:
    left = at

    def count(*_: object) -> None:
        nonlocal left
        left -= 1
        if not left:
            os.kill(os.getpid(), signal.SIGKILL)

    for event in ("before_cursor_execute", "after_cursor_execute", "commit"):
        sa.event.listen(room._engine, event, count)


MOST_STATEMENTS = 90
"""Events (before and after every statement, and before COMMIT) of a commit and a cut, or more."""
LONGEST_LIFE = 0.04
"""Seconds in which a victim is killed from outside."""


def kills(place: str, asked: int, seed: int = 0) -> Tally:
    """Kill a process in its commit or cut, many times over; the room must be sound each time."""
    chance, tally, began = random.Random(seed), Tally(), monotonic()
    context = processes()
    with open_room(place) as room:
        room.sheets.add(G26, Fraction(48), Fraction(96), 10)
    for number in range(asked):
        with open_room(place) as room:
            room.sheets.count(G26, 10)
            labels = room.rack.add([STRIP] * 2).labels
            on_rack = len(room.rack.all())
        near, far = context.Pipe()
        at = chance.randint(1, MOST_STATEMENTS) if number % 2 else 0
        process = context.Process(target=victim, args=(place, far, number, labels, at))
        process.start()
        far.close()
        said = [near.recv()]
        if not at:
            sleep(chance.uniform(0, LONGEST_LIFE))
            os.kill(process.pid or 0, signal.SIGKILL)
        said += _last_words(near)
        if at and said[-1] == "cut":
            os.kill(process.pid or 0, signal.SIGKILL)
        process.join()
        assert process.exitcode == -signal.SIGKILL, process.exitcode
        process.close()
        tally.outcomes[_hold_life(place, f"kill {number}", said[-1], labels, on_rack)] += 1
        tally.done += 1
    tally.seconds = monotonic() - began
    return tally


def _last_words(pipe: Connection) -> list[str]:
    said: list[str] = []
    try:
        while not said or said[-1] != "cut":
            said.append(pipe.recv())
    except EOFError:
        pass
    pipe.close()
    return said


ORDER = ("ready", "committed", "cut")


def _hold_life(place: str, key: str, said: str, labels: tuple[str, ...], on_rack: int) -> str:
    """What had become of the plan; it is whole, and all that was said to be done is there."""
    with open_room(place) as room:
        assert room.audit() == ()
        states = {plan.key: plan.state for plan in room.plans.all()}
        state = states.get(key, PlanState.PLANNED)
        reached = "ready" if state is PlanState.PLANNED else str(state)
        assert ORDER.index(said) <= ORDER.index(reached) <= ORDER.index(said) + 1
        pieces = {
            "ready": (OffcutState.ON_RACK, 10, 0, 0),
            "committed": (OffcutState.RESERVED, 10, 1, 0),
            "cut": (OffcutState.USED, 9, 0, 2 - len(labels)),
        }
        piece, on_hand, reserved, more = pieces[reached]
        assert {room.rack.get(label).state for label in labels} == {piece}
        kind = room.sheets.get(G26)
        assert (kind.on_hand, kind.reserved) == (on_hand, reserved)
        assert len(room.rack.all()) == on_rack + more
        if reached == "committed":
            room.plans.release(key)
        room.rack.scrap([offcut.label for offcut in room.rack.free()])
    return f"found {reached} after it said {said}"


def main() -> None:
    """Run rounds and kills on both databases, and print what came of them."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--rounds", type=int, default=1000)
    parser.add_argument("--kills", type=int, default=200)
    asked = parser.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # so that the server is stopped too
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        host = stack.enter_context(server())
        on_server = host.address(host.make())
        open_room(on_server).close()
        for count in (2, 8):
            file = str(folder / f"{count}.db")
            print(f"SQLite, {count} processes:", rounds(file, count, asked.rounds // 2))
            empty(on_server)
            print(f"PostgreSQL, {count} processes:", rounds(on_server, count, asked.rounds // 2))
        print("SQLite, kills:", kills(str(folder / "kills.db"), asked.kills // 2))
        empty(on_server)
        print("PostgreSQL, kills:", kills(on_server, asked.kills // 2))


if __name__ == "__main__":
    main()
