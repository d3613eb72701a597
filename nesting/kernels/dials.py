"""What a worker's moves are set by: the places of the array ``dials`` that the kernels read."""

from __future__ import annotations

# Mean number of nodes that a ruin removes.
MEAN = 0
# Chances in 1024: to overlook a place; to close a whole sheet as well; to place items in any
# order; to change the kind of a sheet (with any, each is traded for the cheapest that will do).
BLINK, CLOSE, HASTY, RESIZE = 1, 2, 3, 4
# In the energy, beside the worth of the items missing, in 1024ths: worth of the leftovers (less is
# more) and cost of the sheets.
SPARE_PART, COST_PART = 5, 6
DIALS = 7
