"""The state of a search rebuilt from nothing and compared with what the kernels kept.

Used by the tests after every change; the search itself never pays for it.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nesting.kernels import table
from nesting.kernels.leftovers import value
from nesting.kernels.table import HEAD

if TYPE_CHECKING:
    from nesting.improve.state import State


def audit(state: State) -> None:
    """Raise AssertionError with the first thing in the table that does not follow from its trees.

    The trees' invariants: the children of a structure fill it across, and with its slack along;
    directions alternate; only a root may be without children; an only child leaves some slack
    beside it unless it is a whole sheet; an item lies as its type allows. Lists, counters and
    freed rows must match the trees.
    """
    nodes = [n for sheet in range(_head(state, table.SHEETS)) for n in _tree(state, sheet)]
    for n in nodes:
        if state.table[table.KIND, n] == table.STRUCTURE:
            _audit_structure(state, n)
        else:
            _audit_item(state, n)
    _audit_rows(state, nodes)
    _audit_leftovers(state, nodes)
    _audit_missing(state, nodes)
    _audit_sheets(state)


def _head(state: State, row: int) -> int:
    return int(state.table[HEAD, row])


def _children(state: State, n: int) -> list[int]:
    s = state.table
    found, before = [], table.NONE
    child = int(s[table.FIRST, n])
    while child != table.NONE:
        assert s[table.PARENT, child] == n, f"node {child}: parent is not {n}"
        assert s[table.PREV, child] == before, f"node {child}: link back is broken"
        found.append(child)
        before, child = child, int(s[table.NEXT, child])
    return found


def _tree(state: State, sheet: int) -> list[int]:
    s = state.table
    root, kind = int(s[table.SROOT, sheet]), int(s[table.SKIND, sheet])
    assert s[table.PARENT, root] == table.NONE, f"sheet {sheet}: its root has a parent"
    size = (int(s[table.W, root]), int(s[table.H, root]))
    assert size == tuple(state.kinds[:2, kind]), f"sheet {sheet}: not the size of its kind"
    found, ahead = [], [root]
    while ahead:
        n = ahead.pop()
        found.append(n)
        if s[table.KIND, n] == table.STRUCTURE:
            ahead.extend(_children(state, n))
    return found


def _audit_structure(state: State, n: int) -> None:
    s = state.table
    children, d, slack = _children(state, n), int(s[table.DIR, n]), int(s[table.SLACK, n])
    along = sum(int(s[table.W + d, child]) for child in children)
    assert slack >= 0, f"node {n}: slack {slack}"
    assert along + slack == s[table.W + d, n], f"node {n}: {along} + {slack} does not fill it"
    for child in children:
        assert s[table.H - d, child] == s[table.H - d, n], f"node {child}: does not fill across"
        if s[table.KIND, child] == table.STRUCTURE:
            assert s[table.DIR, child] == 1 - d, f"node {child}: same direction as its parent"
    is_root = s[table.PARENT, n] == table.NONE
    assert children or is_root, f"node {n}: empty"
    assert len(children) != 1 or slack > 0 or is_root, f"node {n}: does nothing"


def _audit_item(state: State, n: int) -> None:
    s = state.table
    item = int(s[table.KIND, n])
    w, h, turn = (int(x) for x in state.items[:3, item])
    size = (int(s[table.W, n]), int(s[table.H, n]))
    assert size == (w, h) or (turn and size == (h, w)), f"node {n}: {size} is not item {item}"


def _audit_rows(state: State, nodes: list[int]) -> None:
    s = state.table
    freed = []
    n = _head(state, table.FREED)
    while n != table.NONE:
        assert s[table.KIND, n] == table.FREE, f"row {n}: on the chain of freed ones, in use"
        freed.append(n)
        n = int(s[table.NEXT, n])
    rows = list(range(_head(state, table.ROWS)))
    assert sorted(nodes + freed) == rows, "rows are lost or used twice"
    assert len(nodes) == _head(state, table.NODES), "wrong number of nodes"


def _audit_leftovers(state: State, nodes: list[int]) -> None:
    s = state.table
    listed = {int(s[table.LNODE, at]): at for at in range(_head(state, table.LEFTOVERS))}
    spare = 0
    for n in nodes:
        slack = int(s[table.SLACK, n]) if s[table.KIND, n] == table.STRUCTURE else 0
        at = listed.get(n, table.NONE)
        assert s[table.POS, n] == at, f"node {n}: place in the list is not {at}"
        d, across = int(s[table.DIR, n]), int(s[table.H - int(s[table.DIR, n]), n])
        w, h = (slack, across) if d == 0 else (across, slack)
        worth = value(state.knots, w * h) if slack else 0
        assert s[table.WORTH, n] == worth, f"node {n}: its leftover's worth is {worth}"
        spare += worth
        useful = w >= _head(state, table.LEAST_W) and h >= _head(state, table.LEAST_H)
        assert (slack > 0 and useful) == (n in listed), f"node {n}: listed {n in listed}"
        if n in listed:
            room = (int(s[table.LW, at]), int(s[table.LH, at]))
            assert room == (w, h), f"node {n}: its leftover is listed as {room}"
    assert len(listed) == _head(state, table.LEFTOVERS), "a leftover is listed twice"
    assert set(listed) <= set(nodes), "a leftover of no sheet is listed"
    assert spare == _head(state, table.SPARE), "the leftovers' worth does not add up"


def _audit_missing(state: State, nodes: list[int]) -> None:
    s = state.table
    placed = Counter(int(s[table.KIND, n]) for n in nodes)
    missing = {
        item: int(wanted) - placed[item]
        for item, wanted in enumerate(state.reduced.demand)
        if wanted != placed[item]
    }
    listed = [int(item) for item in s[table.MLIST, : _head(state, table.MISSING_TYPES)]]
    assert sorted(listed) == sorted(missing), "the list of missing items is wrong"
    for item, wanted in enumerate(state.reduced.demand):
        left = int(wanted) - placed[item]
        assert s[table.MCOUNT, item] == left >= 0, f"item {item}: {left} are missing"
    for at, item in enumerate(listed):
        assert s[table.MPOS, item] == at, f"item {item}: place in the list is not {at}"
    worth = sum(copies * int(state.worth[item]) for item, copies in missing.items())
    assert worth == _head(state, table.MISSING), "the missing items' worth does not add up"


def _audit_sheets(state: State) -> None:
    s = state.table
    used = Counter(int(kind) for kind in s[table.SKIND, : _head(state, table.SHEETS)])
    for kind, at_hand in enumerate(state.kinds[2].tolist()):
        assert s[table.USED, kind] == used[kind], f"kind {kind}: count of open sheets is wrong"
        assert at_hand < 0 or used[kind] <= at_hand, f"kind {kind}: more than are at hand"
