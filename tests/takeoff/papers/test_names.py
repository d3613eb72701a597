"""Names of files: whatever a person calls a thing, no disk is led astray by it."""

import re

from hypothesis import given
from hypothesis import strategies as st

from takeoff.papers.names import LONGEST, file_word

ODD = st.sampled_from(
    ["..", "/", "\\", "\0", "\n", "\r", "\u202e", "~", ":", "%2e", "CON", " ", "é"]
)


@given(st.lists(st.one_of(ODD, st.text(max_size=5)), max_size=60).map("".join))
def test_a_word_of_letters_digits_and_hyphens(name: str) -> None:
    word = file_word(name, "job")
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", word, re.ASCII)
    assert len(word) <= LONGEST


def test_what_a_person_wrote_can_be_known_again() -> None:
    assert file_word("Elm Street 4", "job") == "elm-street-4"
    assert file_word("../../etc/passwd", "job") == "etc-passwd"
    assert file_word("\u202e", "job") == "job"
