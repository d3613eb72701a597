"""Compiled inner loops over flat integer arrays: they import nothing else of ours."""
