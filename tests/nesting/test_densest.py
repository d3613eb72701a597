"""A filling that is kept from sheet to sheet is the one that would be made anew."""

from hypothesis import given, settings

from nesting.build.densest import _Fillings, densest, fill_one
from nesting.build.drafts import Draft
from nesting.reduce import reduce_problem
from tests.strategies_nesting import problems


@settings(max_examples=60, deadline=None)
@given(problems())
def test_kept_fillings_are_those_made_anew(problem):
    reduced = reduce_problem(problem).reduced
    if not len(reduced.demand):
        return
    draft, left = Draft(reduced), reduced.demand.copy()
    fillings = _Fillings(reduced)
    while left.any() and (kinds := draft.kinds_at_hand()):
        made = {kind: fillings.best(kind, left).spots for kind in kinds}
        assert made == {kind: fill_one(reduced, left, kind) for kind in kinds}
        cut = next((kind for kind in kinds if made[kind]), None)
        if cut is None:
            break
        draft.cut(cut, made[cut], left)


@settings(max_examples=60, deadline=None)
@given(problems())
def test_nothing_is_cut_more_often_than_it_is_wanted(problem):
    reduced = reduce_problem(problem).reduced
    if len(reduced.demand):
        assert (densest(reduced).unplaced(reduced) >= 0).all()
