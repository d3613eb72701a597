"""Exact methods by OR-Tools and dynamic programming; OR-Tools is imported inside functions only."""
