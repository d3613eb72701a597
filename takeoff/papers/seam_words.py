"""Where the seams of a fitting close, how, and in what order, in words a bench uses."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from takeoff.fittings import Made
from takeoff.pattern.facets import Piece
from takeoff.pattern.mating import Seam, SeamEdge
from takeoff.settings import Seam as SeamRule

CLOSED = {
    "pittsburgh": "set the {single} down into the {pocket}, then hammer the pocket's edge over it",
    "snap_lock": "press the {single} into the {pocket} until it snaps, all along",
    "lap": "lay the {pocket} under the {single} and rivet or spot weld it",
    "grooved": "hook the two lock edges together and set them down with a groover",
    "standing": "fold the {pocket} over the {single} and close it tight",
    "paned": "turn the {pocket} down over the {single}, then dress it flat",
}
"""How a seam is closed, by its name in the profile."""
OWN = "join the {pocket} and the {single}"
"""For a seam that the shop has added."""

STAVE = re.compile(r"^(.*?)(?: (?:stave|corner|side))? \d+$")
"""The name of one narrow facet of a curve."""


@dataclass(frozen=True)
class Closing:
    """Seams between two pieces that are closed alike, one after the other.

    Attributes:
        kind: of seam, as the profile names it.
        receiving: the piece with the receiving edges.
        entering: the piece that enters; the same name where a piece closes on itself.
        places: where, once each.
        times: how often it is done for one fitting.
    """

    kind: str
    receiving: str
    entering: str
    places: tuple[str, ...]
    times: int


def closings(made: Made) -> tuple[Closing, ...]:
    """The seams of one fitting in the order they are closed.

    First every piece that closes on itself, then piece by piece, always onto what is together
    already; sections that are alike are told once.
    """
    order = _in_order(made.seams)
    steps: dict[tuple[int, int, str], list[Seam]] = {}
    for seam in order:
        key = seam.receiving.piece, seam.entering.piece, seam.kind
        steps.setdefault(key, []).append(seam)
    told = Counter(_closing(seams, made.pieces) for seams in steps.values())
    return tuple(
        Closing(each.kind, each.receiving, each.entering, each.places, count)
        for each, count in told.items()
    )


def closing_text(closing: Closing) -> str:
    """The step as a sentence for the bench."""
    kind = closing.kind.replace("_", " ")
    times = f" ({closing.times} times)" if closing.times > 1 else ""
    where = f" at {_listed(closing.places)}" if closing.places else ""
    if closing.receiving == closing.entering:
        what = f"Close the {closing.receiving} on itself{where}"
    else:
        what = f"Close the {closing.entering} into the {closing.receiving}{where}"
    return f"{what}, {kind} seam{times}."


def how_closed(kind: str, rules: Mapping[str, SeamRule]) -> str:
    """What the hands do, as a sentence."""
    rule = rules.get(_key(kind))
    pocket, single = (rule.pocket_name, rule.single_name) if rule else ("receiving edge", "edge")
    told = CLOSED.get(_key(kind), OWN).format(pocket=pocket, single=single)
    return f"{told[0].upper()}{told[1:]}."


def seam_allowances(closings: Sequence[Closing], rules: Mapping[str, SeamRule]) -> Iterator[str]:
    """For each kind of seam which pieces carry which half, and how it is closed."""
    for kind in dict.fromkeys(closing.kind for closing in closings):
        if rule := rules.get(_key(kind)):
            mine = [closing for closing in closings if closing.kind == kind]
            pockets = dict.fromkeys(_plain(closing.receiving) for closing in mine)
            singles = dict.fromkeys(_plain(closing.entering) for closing in mine)
            yield (
                f"{kind.replace('_', ' ').capitalize()} seam: {rule.pocket_name} on "
                f"{_listed(list(pockets))}, {rule.single_name} on {_listed(list(singles))}. "
                f"{how_closed(kind, rules)}"
            )


def _key(kind: str) -> str:
    """A seam's name as the profile has it; a job list may have blanks in it."""
    return kind.replace(" ", "_")


def _plain(name: str) -> str:
    """A piece's name without the length of its section."""
    return name.split(",", maxsplit=1)[0]


def _in_order(seams: Sequence[Seam]) -> list[Seam]:
    alone = [seam for seam in seams if seam.receiving.piece == seam.entering.piece]
    left = [seam for seam in seams if seam.receiving.piece != seam.entering.piece]
    weight = Counter(place for seam in left for place in _pair(seam))
    ordered = list(alone)
    together: set[int] = set()
    while left:
        near = [seam for seam in left if together & set(_pair(seam))]
        if not near:
            together = {max(weight, key=lambda place: (place in _all(left), weight[place]))}
            continue
        first = near[0]
        pair = set(_pair(first))
        ordered += [seam for seam in left if set(_pair(seam)) == pair]
        left = [seam for seam in left if set(_pair(seam)) != pair]
        together |= pair
    return ordered


def _pair(seam: Seam) -> tuple[int, int]:
    return seam.receiving.piece, seam.entering.piece


def _all(seams: Sequence[Seam]) -> set[int]:
    return {place for seam in seams for place in _pair(seam)}


def _closing(seams: Sequence[Seam], pieces: Sequence[Piece]) -> Closing:
    receiving, entering = (pieces[place].name for place in _pair(seams[0]))
    places = dict.fromkeys(place for seam in seams if (place := _place(seam, pieces)))
    return Closing(seams[0].kind, receiving, entering, tuple(places), 1)


def _place(seam: Seam, pieces: Sequence[Piece]) -> str:
    """`left/back`, the two faces that meet; what only repeats a piece's name is left out."""
    names = [_side(edge) for edge in (seam.receiving, seam.entering)]
    own = {_plain(pieces[place].name) for place in _pair(seam)}
    kept = dict.fromkeys(name for name in names if name and name not in own)
    return "/".join(kept)


def _side(edge: SeamEdge) -> str:
    """The face that an edge runs along, the staves of a curve as one."""
    name = edge.edges[0][0]
    found = STAVE.match(name)
    return found[1] if found and len(edge.edges) > 1 else "" if found else name


def _listed(names: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)
