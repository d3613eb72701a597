"""Run by an interpreter that has the PyPI package packingsolver: problems in, results out.

One JSON object a line on standard input: `seconds`, `items` [[width, length, copies, may turn],
...], `stock` [[width, length, cost, copies or null], ...]. One a line comes back: `complete`,
`sheets`, `cost`, `bound`. Any number of cutting stages is allowed, as it is to us. Nothing of this
project is imported here: the other interpreter need not have it.
"""

import json
import os
import sys

import packingsolver.rectangleguillotine as peer


def solve(problem: dict) -> dict:
    """Solve one problem."""
    builder = peer.InstanceBuilder()
    several = len(problem["stock"]) > 1
    aim = peer.Objective.VariableSizedBinPacking if several else peer.Objective.BinPacking
    builder.set_objective(aim)
    builder.set_number_of_stages_unlimited()
    needed = sum(copies for *_, copies, _ in problem["items"])
    for width, length, cost, copies in problem["stock"]:
        builder.add_bin_type(width, length, cost=cost, copies=needed if copies is None else copies)
    for width, length, copies, turn in problem["items"]:
        builder.add_item_type(width, length, copies=copies, oriented=not turn)
    parameters = peer.OptimizeParameters()
    parameters.time_limit = problem["seconds"]
    parameters.verbosity_level = 0
    output = peer.optimize(builder.build(), parameters)
    bound = output.variable_sized_bin_packing_bound if several else output.bin_packing_bound
    solution = output.solution
    return {
        "complete": solution.full() and solution.feasible(),
        "sheets": solution.number_of_bins(),
        "cost": solution.cost(),
        "bound": float(bound),
    }


def main() -> None:
    """Answer line by line; whatever the package prints goes to the error stream."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)
    with answers:
        for line in sys.stdin:
            print(json.dumps(solve(json.loads(line))), file=answers, flush=True)


if __name__ == "__main__":
    main()
