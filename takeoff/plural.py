"""Counts in words."""

from __future__ import annotations


def many(count: int, one: str, rest: str = "") -> str:
    """`1 offcut`, `2 offcuts`; with a rest `2 sheets on hand`, of which only the noun is plural."""
    noun = one if count == 1 else f"{one}s"
    return f"{count} {noun} {rest}" if rest else f"{count} {noun}"
