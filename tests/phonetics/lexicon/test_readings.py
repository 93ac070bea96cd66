"""The best-founded reading of a word, on whose word, and where the sources disagree."""

from __future__ import annotations

import csv
import random
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.phonetics.inventory import bare, parse_sound, sounds
from builder.phonetics.lexicon import dictionary, letter_to_sound, tagged_dictionary
from builder.phonetics.lexicon.allophones import broad, phones_of, settled, signs, skeleton
from builder.phonetics.lexicon.endings import bases, with_ending
from builder.phonetics.lexicon.readings import (
    CMUDICT,
    CORRECTIONS,
    LETTER_TO_SOUND,
    TAGGED,
    agreed,
    agreed_throughout,
    contested,
    entry,
)
from builder.phonetics.position import occurrences

SYMBOLS = {bare for bare in sounds() if len(sounds()[bare].phones[0]) == 1}


def best(word: str) -> str:
    return " ".join(entry(word).readings[0].phones)


@pytest.mark.parametrize(
    ("word", "phones"),
    [
        pytest.param("thyme", "T AY1 M", id="an error of CMUdict, corrected"),
        pytest.param("pretzel", "P R EH1 T S AH0 L", id="two sources against CMUdict"),
        pytest.param("tissue", "T IH1 SH UW0", id="CMUdict's second form has more support"),
        pytest.param("ancient", "EY1 N SH AH0 N T", id="the t between n and sh is no sound"),
        pytest.param("attention", "AH0 T EH1 N SH AH0 N", id="nor here"),
        pytest.param("adventure", "AH0 D V EH1 N CH ER0", id="ch after n where it is written"),
        pytest.param("giraffe", "JH AH0 R AE1 F", id="a consonant r before the stressed vowel"),
        pytest.param("garage", "G AH0 R AA1 ZH", id="and here"),
        pytest.param("around", "AH0 R AW1 N D", id="and at the start"),
        pytest.param("battery", "B AE1 T ER0 IY0", id="vowel + r before an unstressed vowel"),
        pytest.param("furry", "F ER1 IY0", id="stressed vowel + r"),
        pytest.param("fire", "F AY1 ER0", id="as CMUdict writes it first"),
        pytest.param("colonel", "K ER1 N AH0 L", id="no letter r"),
        pytest.param("iron", "AY1 ER0 N", id="r before its letter's place"),
        pytest.param("water", "W AO1 T ER0", id="a flap written t"),
        pytest.param("ladder", "L AE1 D ER0", id="a flap written d"),
        pytest.param("button", "B AH1 T AH0 N", id="glottal t, syllabic n"),
        pytest.param("little", "L IH1 T AH0 L", id="syllabic l"),
        pytest.param("whale", "W EY1 L", id="w before hw"),
        pytest.param("Thomas", "T AA1 M AH0 S", id="a name"),
        pytest.param("DON’T", "D OW1 N T", id="capitals and a curved apostrophe"),
        pytest.param("café", "K AE0 F EY1", id="an accent"),
        pytest.param("almonds", "AA1 L M AH0 N D Z", id="a form of a word"),
        pytest.param("photographs", "F OW1 T AH0 G R AE2 F S", id="an error of two, corrected"),
    ],
)
def test_best_founded(word: str, phones: str) -> None:
    assert best(word) == phones


def test_all_pronunciations_are_kept() -> None:
    found = entry("tissue").readings
    assert [" ".join(r.phones) for r in found] == ["T IH1 SH UW0", "T IH1 S Y UW2"]
    assert found[0].sources == (TAGGED, CMUDICT, LETTER_TO_SOUND)
    assert found[1].sources == (CMUDICT,)


@pytest.mark.parametrize(
    ("word", "endings"),
    [
        ("use", {"Y UW1 S": "noun", "Y UW1 Z": ""}),
        ("close", {"K L OW1 S": "", "K L OW1 Z": "verb"}),
        ("read", {"R IY1 D": "", "R EH1 D": "vbp"}),
        ("lead", {"L IY1 D": "", "L EH1 D": "the metal"}),
        ("bow", {"B OW1": "", "B AW1": "verb"}),
        ("house", {"HH AW1 S": "", "HH AW1 Z": "verb"}),
    ],
)
def test_heteronyms_name_their_readings(word: str, endings: dict[str, str]) -> None:
    known = entry(word)
    assert known.heteronym
    assert {" ".join(r.phones): r.use for r in known.readings} == endings


@pytest.mark.parametrize("word", ["cat", "tissue", "fire", "walked", "dogs", "library", "the"])
def test_variants_alone_make_no_heteronym(word: str) -> None:
    assert not entry(word).heteronym


@pytest.mark.parametrize(
    ("word", "typed", "together"),
    [
        pytest.param("thyme", "/θ/", False, id="CMUdict alone has it"),
        pytest.param("thyme", "t", False, id="and lacks the t"),
        pytest.param("thyme", "m", True, id="of the m all say the same"),
        pytest.param("pretzel", "z", False, id="z or s"),
        pytest.param("pretzel", "r", True, id="the r of pretzel"),
        pytest.param("palm", "l", False, id="an l that some speak"),
        pytest.param("chocolate", "k", False, id="alone or in a cluster"),
        pytest.param("water", "t", True, id="a flap is no disagreement"),
        pytest.param("fire", "ire", True, id="nor vowel + r"),
        pytest.param("giraffe", "r", True, id="nor the r of giraffe"),
        pytest.param("whale", "w", True, id="nor hw"),
        pytest.param("dogs", "aw", True, id="nor vowels that merge"),
        pytest.param("situation", "ch", True, id="nor u + w"),
        pytest.param("kebbo", "k", True, id="a guess has nobody to disagree with"),
    ],
)
def test_agreement_about_the_target(word: str, typed: str, together: bool) -> None:
    assert agreed(entry(word), parse_sound(typed)) is together


@pytest.mark.parametrize(
    ("word", "typed", "phones", "is_contested"),
    [
        pytest.param("thyme", "/θ/", "TH AY1 M", True, id="the tagged dictionary lacks it"),
        pytest.param("thyme", "t", "T AY1 M", False, id="settled by hand"),
        pytest.param("use", "z", "Y UW1 Z", False, id="both hold both readings"),
        pytest.param("chocolate", "k", "CH AO1 K L AH0 T", False, id="in a cluster or alone"),
    ],
)
def test_what_dictionaries_contest(word: str, typed: str, phones: str, is_contested: bool) -> None:
    said = tuple(phones.split())
    (found, *_) = (o for o in occurrences(said, parse_sound(typed)))
    known = entry(word)
    assert contested(known, parse_sound(typed), said, found.positions[0]) is is_contested


def test_agreement_on_everything() -> None:
    assert agreed_throughout(entry("water"))
    assert not agreed_throughout(entry("pretzel"))


def test_a_word_in_no_lexicon_is_a_guess() -> None:
    known = entry("kebbo")
    assert known.guessed
    assert [(r.phones, r.sources) for r in known.readings] == [
        (("K", "EH1", "B", "OW0"), (LETTER_TO_SOUND,))
    ]
    assert not entry("cat").guessed


@pytest.mark.parametrize(
    "text", ["", "???", "7up", "bcdf", "שלום", "a b", "😀", "x" * 41, "-", "'"]
)
def test_what_is_no_word_has_no_reading(text: str) -> None:
    assert entry(text).readings == ()
    assert not entry(text).guessed


@settings(deadline=None)  # the lexicons are read by the first call
@given(st.text(max_size=12))
def test_no_text_raises(text: str) -> None:
    for reading in entry(text).readings:
        assert {bare(phone) for phone in reading.phones} <= SYMBOLS
        assert reading.sources


def _some_words() -> list[str]:
    words = [w for w in tagged_dictionary.load()[0] if w.isalpha() and w.islower()]
    tagged_dictionary.unload()
    return random.Random(1).sample(sorted(words), 800)


@pytest.mark.slow
def test_every_reading_is_written_in_the_table_of_sounds() -> None:
    for word in _some_words():
        known = entry(word)
        assert known.readings, word
        for reading in known.readings:
            assert {bare(phone) for phone in reading.phones} <= SYMBOLS, (word, reading)
            assert settled(word, reading.phones) == reading.phones
        forms = [phones for _, said in known.said for phones in said]
        listed = {skeleton(r.phones) for r in known.readings}
        assert listed <= {skeleton(p) for p in forms} or CORRECTIONS in known.readings[0].sources


def test_what_is_the_same_to_all_sources_has_the_same_places() -> None:
    alike = [
        ("F AY1 ER0", "F AY1 R"),
        ("HH W EY1 L", "W EY1 L"),
        ("B AE1 NG K", "B AE1 N K"),
        ("B AE1 T AH0 R IY0", "B AE1 T ER0 IY0"),
    ]
    for one, other in alike:
        here, there = (tuple(text.split()) for text in (one, other))
        assert skeleton(here) == skeleton(there)
        for sound in sounds().values():
            if sound.kind == "consonant":
                assert occurrences(broad(here), sound) == occurrences(broad(there), sound)


def test_every_sign_of_the_sources_is_in_the_table() -> None:
    for source in (TAGGED, LETTER_TO_SOUND):
        assert {p for phones in signs(source).values() for p in phones} <= SYMBOLS | {"T|D"} | set(
            "ˈˌ"
        )
    used = {
        sign for part in tagged_dictionary.load() for ipa in part.values() for sign in _letters(ipa)
    }
    tagged_dictionary.unload()
    assert used <= {letter for sign in signs(TAGGED) for letter in sign}


def _letters(ipa: str | dict[str, str | None]) -> str:
    return ipa if isinstance(ipa, str) else "".join(filter(None, ipa.values()))


def test_a_sign_that_no_table_holds_is_no_sound() -> None:
    assert phones_of(LETTER_TO_SOUND, "x", ("k", "ǃ", "ˈɛ")) == ("K", "EH1")
    assert phones_of(LETTER_TO_SOUND, "jalapeno", ("n", "ʲ", "oʊ")) == ("N", "Y", "OW0")


def test_without_the_table_allophones_are_signs_of_their_own() -> None:
    assert phones_of(TAGGED, "water", "wˈɔɾəɹ", False) == ("W", "AO1", "ɾ", "AH0", "R")


def test_every_correction_has_a_reason_and_changes_something() -> None:
    table = files("builder.phonetics").joinpath("data/en_corrections.csv").read_text("utf-8")
    lines = [line for line in table.splitlines() if not line.startswith("#")]
    for row in csv.DictReader(lines):
        assert row["reason"]
        assert row["phones"] in [" ".join(r.phones) for r in entry(row["word"]).readings]
        assert {bare(p) for p in row["phones"].split()} <= SYMBOLS


@pytest.mark.parametrize(
    ("form", "base", "ending"),
    [
        ("cats", "cat", "s"),
        ("boxes", "box", "s"),
        ("babies", "baby", "s"),
        ("dog's", "dog", "s"),
        ("walked", "walk", "d"),
        ("stopped", "stop", "d"),
        ("baked", "bake", "d"),
        ("cried", "cry", "d"),
        ("hoping", "hope", "ing"),
        ("hopping", "hop", "ing"),
        ("lying", "lie", "ing"),
        ("eating", "eat", "ing"),
        ("falling", "fall", "ing"),
    ],
)
def test_of_which_word_a_form_may_be(form: str, base: str, ending: str) -> None:
    assert (base, ending) in list(bases(form))


@pytest.mark.parametrize(
    ("base", "ending", "phones"),
    [
        ("K AE1 T", "s", "K AE1 T S"),
        ("D AO1 G", "s", "D AO1 G Z"),
        ("B AA1 K S", "s", "B AA1 K S IH0 Z"),
        ("W AO1 K", "d", "W AO1 K T"),
        ("P L EY1", "d", "P L EY1 D"),
        ("W AA1 N T", "d", "W AA1 N T IH0 D"),
        ("R AH1 N", "ing", "R AH1 N IH0 NG"),
    ],
)
def test_how_an_ending_is_said(base: str, ending: str, phones: str) -> None:
    assert with_ending(tuple(base.split()), ending) == tuple(phones.split())


@pytest.mark.slow
def test_one_word_is_found_in_the_text_as_in_the_whole_lexicon() -> None:
    words = ["thyme", "Thomas", "use", "zilla", "qqqq", "default", "noun", "a"]
    one_by_one = [tagged_dictionary.readings(word) for word in words]
    tagged_dictionary.load()
    assert one_by_one == [tagged_dictionary.readings(word) for word in words]
    tagged_dictionary.unload()
    forms = [dictionary.pronunciations.__wrapped__(word) for word in words]
    dictionary.load()
    assert forms == [dictionary.pronunciations.__wrapped__(word) for word in words]
    dictionary.unload()


def test_the_rules_keep_no_memory_of_the_word_before() -> None:
    words = ["read", "thyme", "the", "close", "kebbo", "water"]
    assert letter_to_sound.transcribe(words) == letter_to_sound.transcribe(words[::-1])[::-1]
    assert letter_to_sound.transcribe(["", "kebbo"]) == [(), ("k", "ˈɛ", "b", "oʊ")]
