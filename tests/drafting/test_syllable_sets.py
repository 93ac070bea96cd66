from __future__ import annotations

import pytest

from builder.drafting.syllable_sets import practice_set
from builder.phonetics.inventory import Sound, parse_sound, phones_of_ipa, sounds, vocalic_r
from builder.phonetics.lexicon.allophones import broad
from builder.phonetics.lexicon.readings import agreed, entry
from builder.phonetics.position import Position, occurrences
from builder.phonetics.syllables import syllable_counts
from builder.wordbank.unsuitable import is_unsuitable


@pytest.mark.parametrize("position", ["initial", "medial", "final"])
@pytest.mark.parametrize("sound", ["k", "s", "sh", "/θ/", "l"])
def test_every_syllable_holds_the_target_there(sound: str, position: Position) -> None:
    target = parse_sound(sound)
    made = practice_set(target, position)
    assert len(made) >= 4
    assert len({s.text for s in made}) == len(made)
    for one in made:
        found = occurrences(phones_of_ipa(one.ipa), target)
        assert any(position in o.positions for o in found), one


def test_the_usual_four_come_first() -> None:
    made = practice_set(parse_sound("k"), "initial")
    assert [s.text for s in made[:4]] == ["kee", "kay", "kah", "koo"]
    assert [s.usual for s in made].index(False) == 4


def test_vowels_that_end_no_word_come_last_and_only_at_the_end_of_a_syllable() -> None:
    initial = practice_set(parse_sound("k"), "initial")[4:]
    assert [s.short for s in initial] == sorted(s.short for s in initial)
    assert {s.ipa for s in initial if s.short} == {"kɪ", "kɛ", "kæ", "kʌ"}
    assert not any(s.short for s in practice_set(parse_sound("k"), "final"))


SOUNDS = [s for s in sounds().values() if s.kind == "consonant"]


@pytest.mark.slow
@pytest.mark.parametrize("position", ["initial", "medial", "final"])
def test_no_syllable_is_a_word_that_is_read_otherwise(position: Position) -> None:
    """Against the lexicons (CMUdict and the tagged dictionary): bow, low, ka, thee, is, own."""
    for sound in SOUNDS:
        for one in practice_set(sound, position):
            known = entry(one.text)
            if "-" not in one.text and known.readings and not known.guessed:
                assert broad(known.readings[0].phones) == broad(phones_of_ipa(one.ipa)), one


@pytest.mark.parametrize(
    ("sound", "position", "vowel", "text"),
    [
        pytest.param("l", "initial", "ow", "l-ow", id="low"),
        pytest.param("r", "initial", "ow", "r-ow", id="row"),
        pytest.param("s", "initial", "ow", "s-ow", id="sow"),
        pytest.param("k", "final", "ow", "ow-k", id="no word, but read in two ways"),
        pytest.param("l", "final", "ow", "owl", id="a word that is read so"),
        pytest.param("k", "initial", "ae", "k-ae", id="no word ends so"),
        pytest.param("k", "final", "ae", "ak", id="before a consonant it is read so"),
        pytest.param("g", "initial", "ee", "g-ee", id="gee"),
        pytest.param("s", "final", "ay", "ay-s", id="an s that would be read as z"),
    ],
)
def test_how_a_syllable_is_written(sound: str, position: Position, vowel: str, text: str) -> None:
    made = practice_set(parse_sound(sound), position)
    assert [s.text for s in made if s.vowel == vowel] == [text]


@pytest.mark.parametrize("position", ["initial", "medial", "final"])
@pytest.mark.parametrize("sound", vocalic_r(), ids=lambda sound: sound.typed)
def test_a_vowel_with_r_has_real_words_and_no_made_up_syllables(
    sound: Sound, position: Position
) -> None:
    """Each is read in one way in both lexicons, of one syllable, and a word that people know."""
    for one in practice_set(sound, position):
        known = entry(one.text)
        assert not known.guessed
        assert not known.heteronym
        assert agreed(known, sound)
        (found,) = occurrences(known.readings[0].phones, sound)
        assert found.positions == (position,)
        assert syllable_counts(known.readings[0].phones)[0] == 1
        assert not is_unsuitable(one.text)


def test_deer_fear_near_and_never_bear_for_an_ear() -> None:
    ear = parse_sound("ear")
    assert [s.text for s in practice_set(ear, "final")] == ["deer", "fear", "near", "hear"]
    assert practice_set(ear, "medial") == ()


def test_no_syllable_begins_like_no_word_does() -> None:
    assert practice_set(parse_sound("ng"), "initial") == ()
    assert practice_set(parse_sound("ng"), "final")
    assert practice_set(parse_sound("r"), "initial", ("K", "R"))[0].text == "kree"
