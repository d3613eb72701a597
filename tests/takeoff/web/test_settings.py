"""The shop's settings on a page: shown with their defaults, changed, taken back."""

import re
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.errors import ProfileFault
from takeoff.lengths import INCH, MILLIMETRE
from takeoff.origins import groups
from takeoff.profile import Profile, changes, default, load, loads
from takeoff.web.desk import Desk
from takeoff.web.pages.settings import name_of, path_of
from takeoff.web.settings_edit import edited, only_what_differs, with_entry, without
from takeoff.web.settings_view import all_tables, slug

from .conftest import Visitor, inputs

SEAMS = "/settings/seams"
OWN = '# ours\n[brake]\nlength = 120 # ten foot\n\n[room]\nplace = "elsewhere.db"\n'


def base(visitor: Visitor, path: str = SEAMS) -> str:
    return inputs(visitor.get(path).text)["_base"]


def beside(page: str) -> list[str]:
    return re.findall(r'class="wrong"[^>]*>([^<]+)<', page)


def test_every_setting_is_in_one_group() -> None:
    told = [name for group in groups() for name in group.tables]
    assert sorted(told) == sorted(Profile.model_fields)


def test_every_setting_but_the_place_of_the_room_is_shown() -> None:
    keys = [setting.key for _, table in all_tables({}, INCH) for setting in table.settings]
    assert len(keys) == len(set(keys))
    leaves = {change.key for change in changes(_all_changed())}
    assert leaves <= set(keys)
    assert "room.place" not in keys


def _all_changed() -> Profile:
    """The default with each number doubled, as far as that is allowed."""
    values = {}
    for _, table in all_tables({}, INCH):
        for setting in table.settings:
            if setting.kind in ("length", "number") and setting.usual not in ("", "0", "0 in"):
                values[setting.path] = setting.usual.replace("1", "2")
    sound = ""
    for path, value in values.items():
        try:
            loads(edited(sound, {path: value}))
        except ProfileFault:
            continue
        sound = edited(sound, {path: value})
    return loads(sound)


def test_each_shows_its_default_its_limits_and_its_source(visitor: Visitor) -> None:
    for group in groups():
        page = visitor.get(f"/settings/{slug(group)}")
        assert len(page.content) < 300_000
        ids = re.findall(r' id="([^"]+)"', page.text)
        assert len(ids) == len(set(ids))
        for told in re.findall(r'aria-describedby="([^"]+)"', page.text):
            assert set(told.split()) <= set(ids)
    page = visitor.get(SEAMS).text
    for words in ("Default: <b>1 in</b>", "Takes 0, up to 12 in", "achrnews.com", "Added to the"):
        assert words in page


def test_a_setting_is_kept_alone_and_used_at_once(visitor: Visitor, desk: Desk) -> None:
    before = desk.shop()
    page = visitor.post(SEAMS, {"_base": base(visitor), "seams.pittsburgh.pocket": "1 1/8"})
    assert "The settings are kept." in page.text
    assert tomllib.loads(desk.book.file.read_text()) == {
        "seams": {"pittsburgh": {"pocket": "1 1/8"}}
    }
    assert load(desk.book.file) == desk.shop().profile
    assert desk.shop().version > before.version
    overview = visitor.get("/settings").text
    assert "<td>1 1/8</td><td>1 in</td>" in overview
    assert visitor.get("/settings/shop.toml").text == desk.book.text()


def test_and_taken_back(visitor: Visitor, desk: Desk) -> None:
    for back in ({"seams.lap.pocket": ""}, {"seams.lap.pocket": "2", "_usual": "seams.lap.pocket"},
                 {"seams.lap.pocket": "1.0"}):  # fmt: skip
        visitor.post(SEAMS, {"_base": base(visitor), "seams.lap.pocket": "2"})
        assert changes(desk.shop().profile)
        visitor.post(SEAMS, {"_base": base(visitor), **back})
        assert desk.book.text().strip() == ""
        assert desk.shop().profile == default()


def test_faults_stand_beside_their_field_in_the_words_of_the_reader(
    visitor: Visitor, desk: Desk
) -> None:
    sent = {
        "seams.lap.pocket": '17 1/ <b>"',
        "seams.lap.single": "13",
        "seams.lap.pocket_angle": "many",
        "seams.lap.sealed": "perhaps",
        "seams.lap.bend_notch": "x" * 400,
        "seams.paned.pocket": "1/2",
    }
    page = visitor.post(SEAMS, {"_base": base(visitor), **sent})
    assert page.status_code == 422
    told = beside(page.text)
    assert len(told) == 5
    assert told[1] == "13 is more than 12 in. Give 0 to 12 in."
    assert "many is not a number. Give a number." in told
    assert "<b>&#34;" not in page.text
    shown = inputs(page.text)
    assert shown["seams.lap.pocket"] == sent["seams.lap.pocket"]
    assert shown["seams.paned.pocket"] == "1/2"
    assert not desk.book.file.exists()
    with pytest.raises(ProfileFault) as caught:
        loads('[seams.lap]\npocket = "17 1/ <b>\\""\nsingle = "13"')
    assert {str(fault).partition(": ")[2] for fault in caught.value.faults} >= {told[1]}


@pytest.mark.parametrize(
    "sent",
    [
        {"room.place": "/etc/passwd"},
        {"brake.length": "1"},
        {"seams.new.pocket": "1"},
        {"__proto__.x": "1"},
        {"..": "1"},
        {"seams": "1"},
        {"seams.lap": "1"},
        {"_usual": "room.place"},
        {"_remove": "seams.lap"},
        {"_remove": "seams"},
        {"_usual": "%00"},
    ],
)
def test_nothing_else_can_be_set(visitor: Visitor, desk: Desk, sent: dict[str, str]) -> None:
    desk.book.file.write_text(OWN)
    visitor.post(SEAMS, {"_base": base(visitor), **sent})
    assert desk.book.file.read_text() == OWN


def test_what_the_shop_wrote_stays_as_it_is(visitor: Visitor, desk: Desk) -> None:
    desk.book.file.write_text(OWN)
    visitor.post(SEAMS, {"_base": base(visitor), "seams.lap.pocket": "2"})
    assert desk.book.file.read_text().startswith(OWN)
    for page in ("/settings", "/settings/bending-cutting-what-is-kept"):
        assert "elsewhere" not in visitor.get(page).text


def test_the_later_one_is_told_and_loses_nothing(visitor: Visitor, desk: Desk) -> None:
    mine = base(visitor)
    visitor.post(SEAMS, {"_base": mine, "seams.lap.pocket": "2", "seams.paned.pocket": "1/2"})
    page = visitor.post(SEAMS, {"_base": mine, "seams.lap.pocket": "3", "seams.lap.single": "1/8"})
    assert page.status_code == 409
    assert "Someone else changed the settings meanwhile" in page.text
    assert " By now it is 2." in beside(page.text)
    shown = inputs(page.text)
    assert (shown["seams.lap.pocket"], shown["seams.lap.single"]) == ("3", "1/8")
    assert shown["seams.paned.pocket"] == "1/2"
    assert 'pocket = "2"' in desk.book.text()
    again = {name: shown[name] for name in shown if name.startswith(("seams.", "_base"))}
    assert "are kept" in visitor.post(SEAMS, again).text
    profile = desk.shop().profile
    assert (profile.seams["lap"].pocket, profile.seams["lap"].single) == (3, loads_length("1/8"))


def loads_length(words: str) -> object:
    return loads(f'[seams.lap]\nsingle = "{words}"').seams["lap"].single


def test_a_seam_of_ones_own(visitor: Visitor, desk: Desk) -> None:
    add = {"_table": "seams", "_name": "our <lock>.2", "_like": "lap"}
    page = visitor.post(f"{SEAMS}/add", {"_base": base(visitor), **add})
    assert "our &lt;lock&gt;.2 (added by you)" in page.text
    seams = desk.shop().profile.seams
    assert seams["our <lock>.2"] == seams["lap"]
    field = name_of(("seams", "our <lock>.2", "pocket"))
    visitor.post(SEAMS, {"_base": base(visitor), field: "2"})
    assert desk.shop().profile.seams["our <lock>.2"].pocket == 2
    page = visitor.post(f"{SEAMS}/add", {"_base": base(visitor), **add})
    assert page.status_code == 422
    assert "is there already" in page.text
    gone = name_of(("seams", "our <lock>.2"))
    visitor.post(SEAMS, {"_base": base(visitor), "_remove": gone})
    assert desk.shop().profile == default()


@pytest.mark.parametrize("name", ["", " ", "n" * 61, "lap"])
def test_names_that_will_not_do(visitor: Visitor, desk: Desk, name: str) -> None:
    add = {"_table": "seams", "_name": name, "_like": "lap", "_base": base(visitor)}
    assert visitor.post(f"{SEAMS}/add", add).status_code == 422
    assert not desk.book.file.exists()


def test_a_price_of_ones_own(visitor: Visitor, desk: Desk) -> None:
    here = "/settings/prices-rates-and-the-bill"
    add = {"_table": "prices.hardware", "_name": "big nut", "_value": "0.30"}
    visitor.post(f"{here}/add", {"_base": base(visitor, here), **add})
    assert desk.shop().profile.prices.hardware["big nut"] == 0.3
    unknown = {"_base": base(visitor, here), "rates.per_hour": "not known"}
    page = visitor.post(here, {**unknown, "prices.hardware.big nut": "0.4"})
    assert inputs(page.text)["rates.per_hour"] == "not known"
    assert desk.shop().profile.rates.per_hour is None
    sent = {"_base": base(visitor, here), "_remove": "prices.hardware.big%20nut"}
    visitor.post(here, {**sent, "rates.per_hour": ""})
    assert desk.shop().profile == default()


def test_in_another_unit_a_length_stays_as_long(visitor: Visitor, desk: Desk) -> None:
    desk.book.file.write_text(OWN)
    before = desk.shop().profile
    here = "/settings/units-and-steps"
    visitor.post(here, {"_base": base(visitor, here), "units": "mm"})
    after = desk.shop().profile
    assert after.unit == MILLIMETRE
    assert after.model_copy(update={"units": "in"}) == before
    assert "Default: <b>25.4 mm</b>" in visitor.get(SEAMS).text


def test_a_file_that_someone_spoils_changes_nothing(visitor: Visitor, desk: Desk) -> None:
    visitor.post(SEAMS, {"_base": base(visitor), "seams.lap.pocket": "2"})
    desk.book.file.write_text("[seams.lap]\npocket = 99\n")
    assert desk.shop().profile.seams["lap"].pocket == 2
    assert "99 is more than 12 in" in visitor.get("/settings").text
    desk.book.file.write_bytes(b"\xff\xfe")
    assert desk.shop().profile.seams["lap"].pocket == 2
    assert visitor.get(SEAMS).status_code == 200


def test_a_setting_that_changes_a_fitting_changes_its_picture(visitor: Visitor, desk: Desk) -> None:
    version = desk.shop().version
    visitor.post(SEAMS, {"_base": base(visitor), "seams.pittsburgh.pocket": "2"})
    assert desk.shop().version == version + 1
    assert desk.shop() is desk.shop()


PATHS = [
    setting.path
    for _, table in all_tables({}, INCH)
    for setting in table.settings
    if setting.path != ("units",)
]
VALUES = st.sampled_from(
    ["", "1", "1/4", "0", "yes", "no", "x", "2 1/8", "not known", "-1", "1e400"]
)


@given(st.dictionaries(st.sampled_from(PATHS), VALUES, max_size=6))
def test_edits_are_what_the_reader_reads(values: dict[tuple[str, ...], str]) -> None:
    text = edited(OWN, values)
    try:
        profile = loads(text)
    except ProfileFault:
        return
    less = only_what_differs(text)
    assert loads(less) == profile
    assert only_what_differs(less) == less
    blank = dict.fromkeys(values, "")
    assert changes(loads(edited(less, blank))) == tuple(
        change for change in changes(profile) if path_of(change.key) not in values
    )


@given(st.text(st.characters(codec="utf-8", exclude_categories=["C"]), min_size=1, max_size=20))
def test_any_name_can_be_added_and_taken_out(name: str) -> None:
    words = " ".join(name.split())
    if not words or words in default().seams:
        return
    text = with_entry(OWN, ("seams",), name, "lap", "")
    assert loads(text).seams[words] == default().seams["lap"]
    assert loads(without(text, ("seams", words))) == loads(OWN)
    assert path_of(name_of(("seams", words))) == ("seams", words)
