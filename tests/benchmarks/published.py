"""Published results by class, for ALL instances of a set (the files hold about half of them).

Source: Gardeyn and Wauters, "A goal-driven ruin and recreate heuristic for the 2D variable-sized
bin packing problem with guillotine constraints", EJOR 2022, tables 1 to 5, minutes of search per
instance. One size: sheets in all; several sizes: mean of item area / stock area, percent.
"""

CLASSES = [str(i) for i in range(1, 11)]
SIZES = (25, 50, 100, 200, 300, 400, 500)


def _by(groups: list[str], figures: list[float]) -> dict[str, float]:
    return dict(zip(groups, figures, strict=True))


ONE_SIZE = _by(CLASSES, [997, 124, 697, 121, 893, 110, 825, 833, 2130, 503])
ONE_SIZE_TURN = _by(CLASSES, [972, 124, 675, 119, 862, 109, 756, 759, 2119, 491])
LIMITED = _by(["M1", "M2", "M3"], [98.4, 97.2, 98.0])
RANDOM = _by(CLASSES, [94.1, 96.5, 91.5, 93.5, 89.3, 92.7, 90.1, 89.4, 75.6, 93.0])
CLUSTERED = _by(
    [f"Nice {n}" for n in SIZES] + [f"Path {n}" for n in SIZES],
    [99.8, 93.5, 91.8, 92.6, 93.3, 94.3, 94.1, 100, 98.1, 95.5, 94.6, 95.5, 95.4, 96.6],
)


def published(name: str, turn: bool) -> dict[str, float]:
    """Figures by class, empty where none are published for this set and rule."""
    if name == "one_size":
        return ONE_SIZE_TURN if turn else ONE_SIZE
    if turn:
        return {}
    return {"limited": LIMITED, "random": RANDOM, "clustered": CLUSTERED}.get(name, {})
