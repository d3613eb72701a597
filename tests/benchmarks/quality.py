"""How good the plans are on published instances, by class, beside what others reach.

Run from the repository root:

    python -m tests.benchmarks.quality --set one_size --turn --seconds 2 --sample 5 --rectpack 1
    PACKINGSOLVER_PYTHON=peer/bin/python python -m tests.benchmarks.quality --packingsolver 2

Every plan is verified. One size is told in sheets (published: of the whole set, of which about half
is at hand), several sizes as the mean of blank area / stock area in percent. A peer that leaves
blanks out of an instance gets no share there, and in sheets those of ours; both are counted below.
"""

import argparse
import math
import os
import time
from collections import Counter
from contextlib import ExitStack
from dataclasses import dataclass, field

from nesting import Problem, solve, verify
from nesting.baseline import rectpack_best
from tests.benchmarks.instances import FILES, Instance, instances
from tests.benchmarks.packingsolver_peer import Peer
from tests.benchmarks.published import published


@dataclass
class Tally:
    """Sums over the instances of a class."""

    count: int = 0
    sheets: int = 0
    bound: int = 0
    used: float = 0.0
    proved: int = 0
    peer_sheets: Counter[str] = field(default_factory=Counter)
    peer_used: Counter[str] = field(default_factory=Counter)
    peer_incomplete: Counter[str] = field(default_factory=Counter)

    def count_peer(self, name: str, sheets: int | None, used: float) -> None:
        """Count what a peer reached; `sheets` is None where it left blanks out."""
        self.peer_sheets[name] += self.sheets if sheets is None else sheets
        self.peer_used[name] += 0.0 if sheets is None else used
        self.peer_incomplete[name] += sheets is None

    def add(self, other: "Tally") -> None:
        """Add the sums of another."""
        for name in vars(self):
            setattr(self, name, getattr(self, name) + getattr(other, name))


@dataclass
class Report:
    """The table of a run."""

    one_size: bool
    peers: tuple[str, ...]
    figures: dict[str, float]
    tallies: dict[str, Tally] = field(default_factory=dict)

    def add(self, group: str, tally: Tally) -> None:
        """Count an instance in."""
        self.tallies.setdefault(group, Tally()).add(tally)

    def lines(self) -> list[str]:
        """The table as text: a line a class, then the total."""
        ours = "sheets" if self.one_size else "used %"
        peer = "".join(f"{name:>15}" for name in self.peers)
        total = Tally()
        found = [f"{'class':<10}{'n':>5}{ours:>9}{'proved':>8}{'bound':>8}{peer}   published (all)"]
        for group, tally in self.tallies.items():
            total.add(tally)
            found.append(self._line(group, tally, self.figures.get(group)))
        shown = [self.figures[group] for group in self.tallies if group in self.figures]
        whole = sum(shown) if self.one_size else sum(shown) / max(1, len(shown))
        found.append(self._line("all", total, whole if shown else None))
        found += [
            f"{name}: {total.peer_incomplete[name]} instances without a whole solution"
            for name in self.peers
            if total.peer_incomplete[name]
        ]
        return found

    def _line(self, group: str, tally: Tally, figure: float | None) -> str:
        ours = f"{tally.sheets}" if self.one_size else f"{100 * tally.used / tally.count:.2f}"
        bound = f"{tally.bound}" if self.one_size else "-"
        peer = "".join(
            f"{tally.peer_sheets[name]:>15}"
            if self.one_size
            else f"{100 * tally.peer_used[name] / tally.count:>15.2f}"
            for name in self.peers
        )
        told = "-" if figure is None else f"{figure:g}" if self.one_size else f"{figure:.2f}"
        return f"{group:<10}{tally.count:>5}{ours:>9}{tally.proved:>8}{bound:>8}{peer}{told:>18}"


def used_share(problem: Problem, metal: int) -> float:
    """Blank area / stock area."""
    return sum(blank.area * blank.qty for blank in problem.blanks) / metal if metal else 0.0


def run_one(instance: Instance, args: argparse.Namespace, solver: Peer | None) -> Tally:
    """Solve one instance, verify the plan and tell its figures."""
    problem = instance.problem
    plan = solve(problem, seconds=args.seconds, seed=args.seed, threads=args.threads)
    verify(problem, plan)
    if plan.unplaced:
        print(f"{instance.name}: {sum(u.qty for u in plan.unplaced)} blanks not placed")
    price = problem.stock[0].cost
    tally = Tally(
        count=1,
        sheets=len(plan.sheets),
        bound=math.ceil(plan.bound / price - 1e-9),
        used=0.0
        if plan.unplaced
        else used_share(problem, sum(sheet.stock.area for sheet in plan.sheets)),
        proved=int(plan.cost <= plan.bound + 1e-6),
    )
    if args.rectpack > 0:
        peer = rectpack_best(problem, args.rectpack)
        complete = peer is not None and not peer.missing
        tally.count_peer("rectpack", peer.sheets if complete else None, peer.used if peer else 0.0)
    if solver is not None:
        found = solver.solve(problem, args.packingsolver)
        # in these sets a sheet costs its area
        tally.count_peer(
            "packingsolver",
            found.sheets if found.complete else None,
            used_share(problem, round(found.cost)),
        )
    return tally


def main() -> None:
    """Parse, run, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--set", choices=sorted(FILES), default="one_size")
    parser.add_argument("--turn", action="store_true", help="blanks may be turned")
    parser.add_argument("--seconds", type=float, default=2.0, help="for each instance")
    parser.add_argument("--sample", type=int, default=1, help="every so manieth instance")
    parser.add_argument("--threads", type=int, default=None)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--rectpack", type=float, default=0.0, help="seconds for the peer, 0: none")
    parser.add_argument(
        "--packingsolver", type=float, default=0.0, help="seconds for this peer, 0: none"
    )
    parser.add_argument(
        "--packingsolver-python", help="a Python that has it (PACKINGSOLVER_PYTHON)"
    )
    args = parser.parse_args()
    chosen = list(instances(args.set, args.turn))[:: args.sample]
    solve(chosen[0].problem, seconds=0.1)  # loads the kernels
    asked = {"rectpack": args.rectpack, "packingsolver": args.packingsolver}
    peers = tuple(name for name, seconds in asked.items() if seconds > 0)
    report = Report(args.set == "one_size", peers, published(args.set, args.turn))
    began = time.monotonic()
    with ExitStack() as stack:
        solver = None
        if "packingsolver" in peers:
            solver = stack.enter_context(Peer(args.packingsolver_python))
        for instance in chosen:
            report.add(instance.group, run_one(instance, args, solver))
    rule = "may be turned" if args.turn else "not turned"
    print(f"{args.set}, {rule}, {args.seconds:g} s each, {os.cpu_count()} cores")
    print("\n".join(report.lines()))
    print(f"{time.monotonic() - began:.0f} s in all; proved: cost equals the bound")


if __name__ == "__main__":
    main()
