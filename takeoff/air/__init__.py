"""The air check: how fast air runs through a job's fittings, and what pressure it takes."""
