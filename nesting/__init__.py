"""Rectangles cut from stock at the least cost, with a proved bound on how good that is."""

from nesting.model import Blank, Keep, Problem, ShearLimits, Stock
from nesting.plan import Goal, Placement, Plan, SheetLayout, Unplaced

__all__ = [
    "Blank",
    "Goal",
    "Keep",
    "Placement",
    "Plan",
    "Problem",
    "ShearLimits",
    "SheetLayout",
    "Stock",
    "Unplaced",
]
