"""The papers of a plan: what goes to the shear, the bench and the supplier."""

from takeoff.papers.contents import Baseline, Contents, contents
from takeoff.papers.folder import CannotWrite, PlanExists
from takeoff.papers.writing import Extra, write_all

__all__ = ["Baseline", "CannotWrite", "Contents", "Extra", "PlanExists", "contents", "write_all"]
