"""The paper that labels are printed on."""

from __future__ import annotations

from enum import StrEnum


class Paper(StrEnum):
    """Sheets that every office has."""

    LETTER = "letter"
    A4 = "a4"

    @property
    def size(self) -> tuple[float, float]:
        """Width and height, points: 8.5 x 11 in, or 210 x 297 mm (ISO 216)."""
        return (612.0, 792.0) if self is Paper.LETTER else (210 / 25.4 * 72, 297 / 25.4 * 72)
