"""What nobody can see in a file: taken out with one finding, or refused."""

from __future__ import annotations

import pytest

from builder.problems import Place, ProgramError
from builder.program_file.decode_text import text_of
from builder.program_file.yaml_tree import parse
from tests.support.clients import client_of, findings_of

# Format characters: the Unicode Standard, chapter 23.
UNSEEN = "\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\u2061\u2066\u2069\ufeff"
OVERRIDES = "\u202a\u202b\u202c\u202d\u202e"
PROGRAM = (
    "sound: k\nmastered: {{syllable: 2026-11-02}}\ncurrent: a\n"
    "words: [key, cow, cup, {word}]\nsteps:\n  - {{name: a, level: word}}\n"
)


@pytest.mark.parametrize("sign", UNSEEN, ids=lambda sign: f"U+{ord(sign):04X}")
def test_an_invisible_character_is_taken_out_of_a_word_with_one_finding(sign: str) -> None:
    text, (found,) = text_of(f"a: b\nc: ki{sign}te, b{sign}y{sign}".encode(), "f.yaml")
    assert text == "a: b\nc: kite, by"
    assert (found.place, found.degree) == (Place("f.yaml", 2, 6), "advice")
    assert f"(U+{ord(sign):04X}) (and 2 more below)" in found.sentence


def test_the_word_is_said_as_it_looks() -> None:
    item = client_of(PROGRAM.format(word="ki\u00adte")).programs[0].steps[0].items[3]
    assert (item.text, item.phones) == ("kite", ("K", "AY1", "T"))
    found = findings_of(PROGRAM.format(word="ki\u00adte"))
    assert [f.rule for f in found] == ["invisible"]


def test_a_joiner_between_emoji_stays() -> None:
    text, found = text_of("a: 👩\u200d🍳 cooks".encode(), "f.yaml")
    assert (text, found) == ("a: 👩\u200d🍳 cooks", ())


@pytest.mark.parametrize("sign", OVERRIDES, ids=lambda sign: f"U+{ord(sign):04X}")
def test_text_shown_in_another_order_than_it_is_read_is_refused(sign: str) -> None:
    with pytest.raises(ProgramError, match=rf"f\.yaml:1:4: fault: .*\(U\+{ord(sign):04X}\)"):
        text_of(f"a: {sign}etik".encode(), "f.yaml")


def test_an_invisible_character_typed_by_its_number_is_refused() -> None:
    with pytest.raises(ProgramError, match=r"\(U\+00AD\)"):
        parse(b'a: "ki\\u00adte"', "f.yaml")
