"""Rectangles cut from stock at the least cost, with a proved bound on how good that is."""

from nesting.checker import verify
from nesting.errors import (
    InvalidBudgetError,
    InvalidProblemError,
    NestingError,
    PlanFaultError,
)
from nesting.model import Blank, Keep, Problem, ShearLimits, Stock
from nesting.plan import Goal, Placement, Plan, SheetLayout, Unplaced
from nesting.solver import solve

__all__ = [
    "Blank",
    "Goal",
    "InvalidBudgetError",
    "InvalidProblemError",
    "Keep",
    "NestingError",
    "Placement",
    "Plan",
    "PlanFaultError",
    "Problem",
    "ShearLimits",
    "SheetLayout",
    "Stock",
    "Unplaced",
    "solve",
    "verify",
]
