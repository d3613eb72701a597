"""How quick the pages are while many look at them and a plan is made.

Run from the repository root:

    python -m tests.benchmarks.page_load --users 20 --seconds 60 --requests 1200 --rounds 2

The server is the command itself, in a process of its own; a plan is made the whole time. The
requests are spread evenly over the seconds, and each person waits for his answer before he asks
again; `late` is how long the last of them had to wait for that. Times are those of the person, from
the request to the whole answer. Memory is read from /proc, so on Linux alone.
"""

import argparse
import os
import random
import re
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Event, Thread

import httpx2

from takeoff.web.asking import TOKEN
from tests.benchmarks.page_people import WALK, Form, Person, Plans, last_part, right
from tests.takeoff.cli.served import Served, served

CLINIC = Path(__file__).parents[2] / "data" / "clinic.csv"
JOBS = "ABCDEF"
"""Plans are made of the first; among the others the people are divided."""
LONGEST = 60.0
"""Seconds that an answer may take before it is a failure."""
EVERY = 10.0
"""Seconds between looks at the memory."""


@dataclass
class Round:
    """What came of a round: milliseconds by kind of page, failures, memory."""

    times: dict[str, list[float]] = field(default_factory=dict)
    failed: list[str] = field(default_factory=list)
    late: float = 0.0
    memory: dict[str, int] = field(default_factory=dict)
    busy: tuple[float, float] = (0.0, 0.0)
    worked: float = 0.0

    def lines(self) -> list[str]:
        """As a table."""
        every = [each for times in self.times.values() for each in times]
        rows = [*sorted(self.times.items()), ("all", every)]
        found = [f"{'page':<18}{'count':>7}{'p50':>8}{'p95':>8}{'max':>8}  ms"]
        for kind, times in rows:
            figures = (share(times, 0.5), share(times, 0.95), max(times))
            found.append(f"{kind:<18}{len(times):>7}" + "".join(f"{ms:>8.0f}" for ms in figures))
        found.append(f"failures: {len(self.failed)} {sorted(set(self.failed))}")
        found.append(f"late: {self.late * 1000:.0f} ms; load of the machine: {self.busy}")
        seen = ", ".join(f"{when} {size}" for when, size in self.memory.items())
        found.append(f"processor time of the server: {self.worked:.1f} s")
        found.append(f"memory of the server, MB: {seen}")
        return found


def share(values: list[float], part: float) -> float:
    """The value that this part of all does not exceed."""
    return sorted(values)[max(0, -int(-part * len(values) // 1) - 1)]


def memory(pid: int) -> int:
    """Resident memory of a process, MB."""
    status = Path(f"/proc/{pid}/status").read_text()
    return int(re.findall(r"VmRSS:\s+(\d+)", status)[0]) // 1024


def worked(pid: int) -> float:
    """Processor time of a process until now, s."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def marked(listed: str, letter: str) -> str:
    """A job list whose marks begin with a letter more: another job, none of it worked out yet."""
    marks = re.findall(r"^([A-Z]+\d+),", listed, re.MULTILINE)
    return re.sub(rf"\b({'|'.join(marks)})\b", rf"{letter}\1", listed)


def visitor(server: Served) -> httpx2.Client:
    """A browser that follows where forms lead."""
    return httpx2.Client(base_url=server.address, follow_redirects=True, timeout=LONGEST)


class Shop:
    """The one who fills the shop and keeps a plan going."""

    def __init__(self, client: httpx2.Client) -> None:
        self._client = client
        self._token = Form(client.get("/jobs").text).values[TOKEN]
        self.plans = Plans()

    def bring(self, listed: str) -> int:
        """A job brought in; its number."""
        files = {"list": ("job.csv", listed.encode(), "text/csv")}
        answer = self._client.post("/jobs/import", data={TOKEN: self._token}, files=files)
        return int(last_part(answer))

    def rows(self, job: int) -> list[str]:
        """The keys of a job's rows."""
        return re.findall(r'id="row-([^"]+)"', self._client.get(f"/jobs/{job}").text)

    def fill(self) -> None:
        """Sheets on hand and offcuts on the rack."""
        metal = {"material": "galvanized", "gauge": "26", "width": "48", "length": "96"}
        for gauge in ("22", "24", "26", "28"):
            sheet = {"stock": "4 x 8", "qty": "20", "cost": "40"}
            self._send("/stock", {**metal, **sheet, "gauge": gauge})
        for width in range(10, 40):
            self._send("/rack", {**metal, "width": str(width), "length": "60", "qty": "2"})

    def plan(self, job: int, seconds: float) -> str:
        """Start a plan; its key."""
        return last_part(self._send(f"/jobs/{job}/plan", {"seconds": str(seconds)}))

    def over(self, run: str) -> bool:
        """Whether a plan is made."""
        answer = self._client.get(f"/runs/{run}", headers={"HX-Request": "true"})
        return answer.status_code == 204

    def keep_planning(self, job: int, seconds: float, end: Event) -> None:
        """Start a plan whenever the last is made, until the end."""
        while not end.wait(0.25):
            if not self.plans.live or self.over(self.plans.live):
                self.plans.live = self.plan(job, seconds)

    def _send(self, path: str, values: dict[str, str]) -> httpx2.Response:
        return self._client.post(path, data={TOKEN: self._token, **values}).raise_for_status()


@contextmanager
def crowd(server: Served, listed: str, users: int, seconds: float) -> Iterator[list[Person]]:
    """So many people before a shop that is filled, while plans of so many seconds are made."""
    with ExitStack() as opened:
        shop = Shop(opened.enter_context(visitor(server)))
        shop.fill()
        planned, *jobs = [shop.bring(marked(listed, letter)) for letter in JOBS]
        rows = {job: shop.rows(job) for job in jobs}
        shop.plans.done = shop.plan(planned, 2)
        while not shop.over(shop.plans.done):
            time.sleep(0.2)
        people = []
        for number in range(users):
            client, job = opened.enter_context(visitor(server)), jobs[number % len(jobs)]
            people.append(Person(client, job, rows[job], shop.plans, random.Random(number)))
        end = Event()
        planning = Thread(target=shop.keep_planning, args=(planned, seconds, end))
        planning.start()
        try:
            while not shop.plans.live:
                time.sleep(0.1)
            yield people
        finally:
            end.set()
            planning.join()


def walk(people: list[Person], seconds: float, requests: int, pid: int) -> Round:
    """All the requests, evenly spread, each person's pages in the order of his walk."""
    found = Round()
    began = time.perf_counter()
    load, before = os.getloadavg()[0], worked(pid)

    def one(number: int) -> None:
        for turn in range(number, requests, len(people)):
            due = began + turn * seconds / requests
            time.sleep(max(0.0, due - time.perf_counter()))
            kind = WALK[(turn // len(people) + number) % len(WALK)]
            start = time.perf_counter()
            found.late = max(found.late, start - due)
            try:
                answer = people[number].see(kind)
            except httpx2.HTTPError as error:
                found.failed.append(f"{kind}: {type(error).__name__}")
                continue
            found.times.setdefault(kind, []).append((time.perf_counter() - start) * 1000)
            if not right(kind, answer):
                found.failed.append(f"{kind}: {answer.status_code}")

    with ThreadPoolExecutor(len(people)) as pool:
        walks = [pool.submit(one, number) for number in range(len(people))]
        looks = 0
        while not all(each.done() for each in walks):
            if time.perf_counter() - began >= EVERY * looks:
                found.memory[f"{EVERY * looks:.0f} s"] = memory(pid)
                looks += 1
            time.sleep(0.1)
        for each in walks:
            each.result()
    found.memory["end"] = memory(pid)
    found.worked = worked(pid) - before
    found.busy = round(load, 1), round(os.getloadavg()[0], 1)
    return found


def measure(listed: str, users: int, seconds: float, requests: int, rounds: int) -> Iterator[Round]:
    """Serve, let the people in, and let them walk; gives each round when it is over."""
    with TemporaryDirectory() as home, served(Path(home)) as server:
        before = {"start": memory(server.pid)}
        with crowd(server, listed, users, seconds + EVERY) as people:
            for person in people:
                person.enter()
            for _ in range(rounds):
                found = walk(people, seconds, requests, server.pid)
                found.memory, before = before | found.memory, {}
                yield found


def main() -> None:
    """Measure and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--users", type=int, default=20)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--requests", type=int, default=1200)
    parser.add_argument("--rounds", type=int, default=1)
    asked = parser.parse_args()
    listed = CLINIC.read_text(encoding="utf-8")
    for found in measure(listed, asked.users, asked.seconds, asked.requests, asked.rounds):
        print("\n".join(found.lines()), flush=True)


if __name__ == "__main__":
    main()
