"""Where seams close, in an order that a bench can follow."""

from takeoff.blanks import MadeLine, make_line
from takeoff.fittings import families
from takeoff.jobs.job import JobLine
from takeoff.papers.seam_words import CLOSED, closing_text, closings, how_closed
from takeoff.profile import default
from tests.takeoff.fittings.making import card, example_card, shop


def made(kind: str, **cells: object) -> MadeLine:
    bench = shop()
    return make_line(JobLine(2, "F1", card(kind, **cells), 1, bench.metal), bench)


def test_a_duct_in_one_piece_closes_on_itself() -> None:
    (closing,) = closings(made("straight duct", width="12", height="8", length="40").made)
    assert (closing.receiving, closing.entering, closing.times) == ("wrap", "wrap", 1)
    assert closing_text(closing) == "Close the wrap on itself at left/bottom, pittsburgh seam."


def test_a_plenum_is_closed_before_its_end_goes_in() -> None:
    plenum = made("plenum", width="16", depth="14", height="20")
    told = [closing_text(each) for each in closings(plenum.made)]
    assert told[0] == "Close the wrap on itself at left/front, pittsburgh seam."
    assert told[1].startswith("Close the end into the wrap at ")


def test_sections_that_are_alike_are_told_once() -> None:
    run = made("straight duct", width="12", height="8", length="94")  # two joints of 47
    (closing,) = closings(run.made)
    assert closing.times == 2
    assert "(2 times)" in closing_text(closing)


def test_every_seam_of_every_fitting_is_closed_once_and_onto_what_is_together() -> None:
    for family in families().values():
        bench = shop()
        line = JobLine(2, "F1", example_card(family, family.examples[0]), 1, bench.metal)
        fitting = make_line(line, bench).made
        found = closings(fitting)
        pairs = {(s.receiving.piece, s.entering.piece, s.kind) for s in fitting.seams}
        assert sum(closing.times for closing in found) == len(pairs), family.kind


def test_every_seam_of_the_profile_has_its_way_of_closing() -> None:
    rules = default().seams
    assert set(CLOSED) == set(rules)
    for kind, rule in rules.items():
        told = how_closed(kind, rules)
        assert rule.pocket_name in told or rule.single_name in told or kind == "grooved"
    assert how_closed("snap lock", rules) == how_closed("snap_lock", rules)
    assert how_closed("own", {}) == "Join the receiving edge and the edge."
