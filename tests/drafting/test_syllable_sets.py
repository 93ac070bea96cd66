from __future__ import annotations

import pytest

from builder.drafting.syllable_sets import practice_set
from builder.phonetics.inventory import parse_sound, phones_of_ipa
from builder.phonetics.position import Position, occurrences


@pytest.mark.parametrize("position", ["initial", "medial", "final"])
@pytest.mark.parametrize("sound", ["k", "s", "sh", "/θ/", "l", "er", "air"])
def test_every_syllable_holds_the_target_there(sound: str, position: Position) -> None:
    target = parse_sound(sound)
    made = practice_set(target, position)
    assert len(made) >= 4
    assert len({s.text for s in made}) == len(made)
    for one in made:
        found = occurrences(phones_of_ipa(one.ipa), target)
        assert any(position in o.positions for o in found), one


def test_the_four_corners_come_first() -> None:
    made = practice_set(parse_sound("k"), "initial")
    assert [s.text for s in made[:4]] == ["kee", "ka", "kah", "koo"]
    assert [s.corner for s in made].index(False) == 4


def test_vowels_that_end_no_word_come_last_and_only_at_the_end_of_a_syllable() -> None:
    initial = practice_set(parse_sound("k"), "initial")[4:]
    assert [s.short for s in initial] == sorted(s.short for s in initial)
    assert {s.ipa for s in initial if s.short} == {"kɪ", "kɛ", "kʌ"}
    assert not any(s.short for s in practice_set(parse_sound("k"), "final"))


def test_no_syllable_begins_like_no_word_does() -> None:
    assert practice_set(parse_sound("ng"), "initial") == ()
    assert practice_set(parse_sound("ng"), "final")
    assert practice_set(parse_sound("r"), "initial", ("K", "R"))[0].text == "kree"
