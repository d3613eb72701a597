"""Watching a profile changes nothing, and sees what is read."""

import tomllib
from collections.abc import Mapping

import pytest

from takeoff.fittings import Fitting, Shop, families
from takeoff.origins import origins
from takeoff.pattern.bending import bend_order
from takeoff.profile import default_text, loads
from takeoff.used import Seen, watched
from tests.takeoff.fittings.making import example_card, shop


@pytest.mark.parametrize("family", families().values(), ids=lambda family: family.kind)
def test_a_fitting_made_under_watch_is_the_same(family: type[Fitting]) -> None:
    for example in family.examples:
        plain, seen = shop(), Seen()
        card = example_card(family, example)
        made = card.make(Shop(watched(plain.profile, seen), plain.metal, plain.sheets))
        assert made == card.make(plain)
        assert "brake.length" in seen
        for key, value in seen.items():
            held: object = plain.profile
            for step in key.split("."):
                held = held[step] if isinstance(held, dict) else getattr(held, step)
            assert held == value


def test_what_makes_the_numbers_is_seen_and_nothing_else() -> None:
    seen: Seen = {}
    plain = shop()
    card = families()["return box"]
    box = card.model_validate({"width": "19", "depth": "24", "height": "16"})
    made = box.make(Shop(watched(plain.profile, seen), plain.metal, plain.sheets))
    assert {"seams.pittsburgh.pocket", "ends.bearing_flange.strips.lip.width"} <= seen.keys()
    assert not any(key.startswith(("seams.lap", "prices", "rates")) for key in seen)
    bend_order(made.pieces[0], watched(plain.profile, seen).brake)
    assert seen["brake.beam_height"] == 8


def test_properties_and_methods_read_through() -> None:
    seen: Seen = {}
    profile = loads('[bend]\nrule = "allowance"\nradius = "1/16"')
    watch = watched(profile, seen)
    assert watch.bend.deduction(90, 0.02) == profile.bend.deduction(90, 0.02)
    assert watch.ends["hem"].allowance == profile.ends["hem"].allowance
    assert watch.unit == profile.unit
    copied = watch.seams["lap"].model_copy(update={"single": watch.seams["lap"].single_curved})
    assert copied.single == 0
    assert {"bend.rule", "bend.radius", "ends.hem.strips.hem.width", "units"} <= seen.keys()
    assert "pittsburgh" in watch.seams
    assert len(watch.seams) == len(profile.seams)
    assert not any(key.startswith("seams.pittsburgh") for key in seen)


def test_origins_are_the_comments_behind_the_values() -> None:
    found = origins()
    assert found["seams.lap.single"] == "the covered edge gets nothing"
    assert found["seams.pittsburgh.pocket"].endswith("(achrnews.com/articles/87804 and 90151)")
    assert found["ends.hem.strips.hem"].startswith("single hem: its width W is added")
    assert found["prices.hardware.sheet metal screw"] == "placeholder"
    assert found["hangers.home.strap"] == "same specification"


def test_every_number_of_the_defaults_has_an_origin() -> None:
    lacking = {key for key in leaves(tomllib.loads(default_text())) if key not in origins()}
    # what a strip is called is no number
    assert {key.rsplit(".", 1)[1] for key in lacking} == {"pocket_name", "single_name"}


def leaves(tree: Mapping[str, object], path: str = "") -> list[str]:
    """The key path of every value in nested tables."""
    return [
        leaf
        for key, value in tree.items()
        for leaf in (
            leaves(value, f"{path}{key}.") if isinstance(value, Mapping) else [f"{path}{key}"]
        )
    ]
