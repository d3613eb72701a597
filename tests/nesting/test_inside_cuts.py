"""Where cuts may end inside a sheet, through cuts are valid and the bound holds for all."""

import pytest

from nesting import Blank, Placement, Plan, Problem, SheetLayout, Stock, solve, verify

STOCK = Stock("5x5", 5, 5, 1.0)
PIN, HUB = (3, 2), (1, 1)


def wheels(count, guillotine):
    """Four of 3 x 2 around a 1 x 1 fill a 5 x 5: no through cut separates them."""
    blanks = [Blank("pin", *PIN, qty=4 * count), Blank("hub", *HUB, qty=count)]
    return Problem(blanks, [STOCK], guillotine=guillotine)


def best_of(problem):
    """The known optimum: a wheel on every sheet."""
    pin, hub = problem.blanks
    spots = [(0, 0, False), (3, 0, True), (2, 3, False), (0, 2, True)]
    wheel = [Placement(pin, x, y, *(PIN[::-1] if t else PIN), t) for x, y, t in spots]
    wheel.append(Placement(hub, 2, 2, 1, 1, turned=False))
    sheets = (SheetLayout(STOCK, wheel),) * hub.qty
    return Plan(sheets, float(hub.qty), bound=0.0)


@pytest.mark.parametrize("count", [1, 3, 12])
def test_the_bound_is_not_above_what_inside_cuts_reach(count):
    problem = wheels(count, guillotine=False)
    best = best_of(problem)
    verify(problem, best)
    plan = solve(problem, seconds=0.6, threads=1)
    verify(problem, plan)
    assert plan.bound <= best.cost * (1 + 1e-9)
    assert plan.cost > best.cost  # through cuts don't reach it


def test_with_through_cuts_only_the_bound_may_be_higher():
    plan = solve(wheels(12, guillotine=True), seconds=0.6, threads=1)
    assert plan.bound > 12


def test_coils_too():
    coil = Stock("coil", 5, 5, 1.0, kind="coil")
    problem = Problem(wheels(2, guillotine=False).blanks, [coil], guillotine=False)
    assert solve(problem, seconds=0.3, threads=1).bound <= 2.0
