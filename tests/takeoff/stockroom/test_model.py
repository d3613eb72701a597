"""Any sequence of steps against a plain model of a stock room; undo included."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from dataclasses import dataclass, field
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from takeoff.stockroom import (
    CannotUndo,
    KindKey,
    Needs,
    NotThere,
    OffcutState,
    PiecesGone,
    PlanState,
    Room,
    SheetNeed,
    TooFew,
    WrongState,
    open_room,
)

from .conftest import Places
from .samples import G24, G26, STRIP

KEYS = st.sampled_from([G26, G24])
PLANS = st.sampled_from(["p", "q", "r"])
COUNTS = st.integers(0, 6)
NUMBERS = st.integers(1, 12)
WIDTHS = {G26: Fraction(96), G24: Fraction(120)}


@dataclass
class State:
    """What is in the room."""

    on_hand: dict[KindKey, int] = field(default_factory=dict)
    offcuts: dict[str, OffcutState] = field(default_factory=dict)
    plans: dict[str, PlanState] = field(default_factory=dict)
    holds: dict[str, tuple[dict[KindKey, int], set[str]]] = field(default_factory=dict)

    def reserved(self, key: KindKey) -> int:
        return sum(sheets.get(key, 0) for sheets, _ in self.holds.values())


@dataclass
class Model:
    """A room as simple as can be: undo puts the state before the last step back."""

    state: State = field(default_factory=State)
    before: list[State] = field(default_factory=list)
    numbers: int = 0

    def step(self) -> State:
        self.before.append(deepcopy(self.state))
        return self.state

    def onto_rack(self, count: int) -> None:
        for _ in range(count):
            self.numbers += 1
            self.state.offcuts[f"R-{self.numbers:06d}"] = OffcutState.ON_RACK

    def undo(self) -> None:
        back = self.before.pop()
        for label in self.state.offcuts:
            back.offcuts.setdefault(label, OffcutState.TAKEN_BACK)
        for key in self.state.on_hand:
            back.on_hand.setdefault(key, 0)
        for plan in self.state.plans:
            back.plans.setdefault(plan, PlanState.PLANNED)
        self.state = back


class Machine(RuleBasedStateMachine):
    """Steps, asked of the room and of the model."""

    places: Places

    @initialize()
    def open(self) -> None:
        self.room: Room = open_room(self.places())
        self.model = Model()

    def teardown(self) -> None:
        if hasattr(self, "room"):
            self.room.close()

    @rule(key=KEYS, qty=COUNTS)
    def add_sheets(self, key: KindKey, qty: int) -> None:
        self.room.sheets.add(key, Fraction(48), WIDTHS[key], qty)
        state = self.model.step()
        state.on_hand[key] = state.on_hand.get(key, 0) + qty

    @rule(key=KEYS, counted=COUNTS)
    def count_sheets(self, key: KindKey, counted: int) -> None:
        now = self.model.state
        expected = (
            NotThere if key not in now.on_hand else TooFew if counted < now.reserved(key) else None
        )
        if self.refused(expected, lambda: self.room.sheets.count(key, counted)):
            return
        self.model.step().on_hand[key] = counted

    @rule(count=st.integers(1, 3))
    def add_offcuts(self, count: int) -> None:
        self.room.rack.add([STRIP] * count)
        self.model.step()
        self.model.onto_rack(count)

    @rule(number=NUMBERS)
    def scrap(self, number: int) -> None:
        label = f"R-{number:06d}"
        state = self.model.state.offcuts.get(label)
        expected = {None: NotThere, OffcutState.ON_RACK: None}.get(state, WrongState)
        if not self.refused(expected, lambda: self.room.rack.scrap([label])):
            self.model.step().offcuts[label] = OffcutState.SCRAPPED

    @rule(plan=PLANS, sheets=st.dictionaries(KEYS, st.integers(1, 4)), numbers=st.sets(NUMBERS))
    def commit(self, plan: str, sheets: dict[KindKey, int], numbers: set[int]) -> None:
        labels = {f"R-{number:06d}" for number in numbers}
        needs = Needs(tuple(SheetNeed(key, n) for key, n in sheets.items()), tuple(labels))
        now = self.model.state
        gone = {key for key, n in sheets.items() if now.on_hand.get(key, 0) - now.reserved(key) < n}
        gone_labels = {each for each in labels if now.offcuts.get(each) != OffcutState.ON_RACK}
        held = now.plans.get(plan)
        same = held is PlanState.COMMITTED and now.holds[plan] == (sheets, labels)
        if same:
            self.room.plans.commit(plan, plan, needs)
            return
        stuck = held in {PlanState.COMMITTED, PlanState.CUT}
        expected = WrongState if stuck else PiecesGone if gone or gone_labels else None
        if self.refused(expected, lambda: self.room.plans.commit(plan, plan, needs)):
            if expected is PiecesGone:
                told = {getattr(each, "key", None) or each.label for each in self.caught.gone}
                assert told == gone | gone_labels
            return
        state = self.model.step()
        state.plans[plan] = PlanState.COMMITTED
        state.holds[plan] = (sheets, labels)
        for label in labels:
            state.offcuts[label] = OffcutState.RESERVED

    @rule(plan=PLANS)
    def release(self, plan: str) -> None:
        if self.ended(plan, lambda: self.room.plans.release(plan)):
            state = self.model.step()
            _, labels = state.holds.pop(plan)
            state.plans[plan] = PlanState.RELEASED
            state.offcuts |= dict.fromkeys(labels, OffcutState.ON_RACK)

    @rule(plan=PLANS, kept=st.integers(0, 2))
    def cut(self, plan: str, kept: int) -> None:
        if self.ended(plan, lambda: self.room.plans.cut(plan, [STRIP] * kept)):
            state = self.model.step()
            sheets, labels = state.holds.pop(plan)
            state.plans[plan] = PlanState.CUT
            state.offcuts |= dict.fromkeys(labels, OffcutState.USED)
            for key, qty in sheets.items():
                state.on_hand[key] -= qty
            self.model.onto_rack(kept)

    @precondition(lambda self: self.model.before)
    @rule()
    def undo(self) -> None:
        self.room.undo()
        self.model.undo()

    @precondition(lambda self: not self.model.before)
    @rule()
    def nothing_to_undo(self) -> None:
        self.refused(NotThere, self.room.undo)

    @rule(back=st.integers(1, 6))
    def undo_an_earlier_one(self, back: int) -> None:
        """It is refused and nothing changes, or it is done and can be told by the audit.

        What it then comes to is another history than the model's, so the last of it is taken
        for what there is.
        """
        steps = self.room.steps()
        if back >= len(steps):
            return
        try:
            self.room.undo(steps[back].number)
        except CannotUndo:
            return
        assert self.room.audit() == ()
        assert self.room.step(steps[back].number).undone
        self.teardown()
        self.open()

    @invariant()
    def both_hold_the_same(self) -> None:
        if not hasattr(self, "room"):
            return
        state = self.model.state
        assert self.room.audit() == ()
        kinds = {kind.key: (kind.on_hand, kind.reserved) for kind in self.room.sheets.all()}
        assert kinds == {key: (n, state.reserved(key)) for key, n in state.on_hand.items()}
        offcuts = {each.label: each.state for each in self.room.rack.all(tuple(OffcutState))}
        assert offcuts == state.offcuts
        plans = {plan.key: plan.state for plan in self.room.plans.all()}
        assert plans == state.plans
        for plan, (sheets, labels) in state.holds.items():
            held = self.room.plans.reserved(plan)
            assert {need.key: need.qty for need in held.sheets} == sheets
            assert set(held.offcuts) == labels

    def ended(self, plan: str, end: Callable[[], object]) -> bool:
        held = self.model.state.plans.get(plan)
        expected = {None: NotThere, PlanState.COMMITTED: None}.get(held, WrongState)
        return not self.refused(expected, end)

    def refused(self, expected: type[Exception] | None, do: Callable[[], object]) -> bool:
        if expected is None:
            do()
            return False
        with pytest.raises(expected) as caught:
            do()
        self.caught = caught.value
        return True


@pytest.mark.slow
def test_any_sequence_of_steps_does_what_the_model_does(new_places: Places, database: str) -> None:
    """Fewer on PostgreSQL, where each transaction takes several messages."""
    machine = type("OnDatabase", (Machine,), {"places": staticmethod(new_places)})
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=20 if database == "sqlite" else 6,
            stateful_step_count=25,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
