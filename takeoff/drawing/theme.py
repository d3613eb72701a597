"""How things look on paper: legible in black and white, and told apart without colour."""

from __future__ import annotations

from .primitives import Pen

SHEET = Pen(1.5)
BLANK = Pen(0.9)
OFFCUT = Pen(0.7, (4, 2))
HATCH = Pen(0.35, (), 0.35)
LEADER = Pen(0.45)
DIMENSION = Pen(0.45)
RULE = Pen(0.4, (), 0.4)
TO_MARK = Pen(0.35, (1, 2), 0.35)

OUTLINE = Pen(1.2)
HOLE = Pen(1.0)
SLIT = Pen(1.0)
BEND_UP = Pen(0.7, (7, 2.5))
BEND_DOWN = Pen(0.7, (7, 2, 1, 2, 1, 2))
FORMED = Pen(0.6, (1.2, 1.8))
CROSS_BREAK = Pen(0.35, (2, 3), 0.25)
EDGE = Pen(0.6)
STAVE = Pen(0.25, (), 0.55)

PAPER = 1.0
SCRAP = 0.82
SEAM_STRIP = 0.93
INSIDE = (0.68, 0.78, 0.86)
OUTSIDE = (0.88, 0.95, 1.0)
"""Greys of folded faces that look away from, across and to the light."""
HOLE_SHADE = 0.4

HATCH_STEP = 6.0
"""Points between hatch lines."""

TITLE, HEADING, LIST, BODY = 15.0, 9.5, 9.0, 7.0
"""Letter heights on a page, points; lists are read at arm's length."""

LARGEST_LABEL, SMALLEST_LABEL, SMALLEST_NUMBER = 10.0, 6.5, 6.0
"""Letter heights on a drawing, points: 6 can still be read at a bench."""
