"""Flat patterns: facets, hinges, strips, outline, folding and bending. Knows no fitting by name."""
