"""Long work of the page, plans and comparisons, each in a process of its own."""

from .orders import CompareOrder, Order, PlanOrder, Progress
from .record import Kind, NoSuchRun, Run, State
from .runner import Busy, Runs

__all__ = [
    "Busy",
    "CompareOrder",
    "Kind",
    "NoSuchRun",
    "Order",
    "PlanOrder",
    "Progress",
    "Run",
    "Runs",
    "State",
]
