"""The numbers a search is tuned by."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Settings:
    """What a worker does; the defaults were measured on published instances.

    `close`, `resize` and `cost_part` count only where stock comes in several sizes.

    Attributes:
        means: mean number of nodes a ruin removes, one for each worker in turn.
        blink: chance in 1024 to overlook a place.
        hasty: chance in 1024 that items are put back in any order.
        close: chance in 1024 that a ruin closes a whole sheet before.
        resize: chance in 1024 that a sheet changes its kind.
        spare_part: part of the leftovers' worth in the energy, in 1024ths.
        cost_part: part of the sheets' cost in the energy, in 1024ths.
        history: moves that late acceptance looks back.
        idle: range of the moves without a better energy after which a worker reheats.
        heat: range of the energy given to the history then, above the present, in sheets.
        spell: moves between two looks at the clock and the shared goal.
    """

    means: tuple[int, ...] = (3, 6)
    blink: int = 80
    hasty: int = 10
    close: int = 20
    resize: int = 400
    spare_part: int = 60
    cost_part: int = 200
    history: int = 100
    idle: tuple[int, int] = (12_000, 30_000)
    heat: tuple[float, float] = (0.3, 1.0)
    spell: int = 4_000
