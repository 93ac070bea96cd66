"""Our own texts and topics: enough targets, a level for their readers, nothing that must not stand
there; and how a step is drafted of them.

Limits of targets are common practice, no source; reading grades by Kincaid et al. 1975.
"""

from __future__ import annotations

from itertools import product

import pytest

from builder.drafting.past_sentences.bank import BankText, Past, age_of, bank
from builder.drafting.past_sentences.steps import draft_past, extended_past, up_to
from builder.model.past_sentences import targets_of
from builder.phonetics.inventory import parse_sound
from builder.phonetics.lexicon.readings import entry
from builder.program_file.pronounce import words_of
from builder.text.passage import Places, counted, targets_in, uncertain_words
from builder.text.readability import counts, grade
from builder.text.reading_rate import targets_a_minute
from tests.support.clients import client_of, findings_of

# The ten sounds that are treated most often (common practice, no source), as one types them.
SOUNDS = tuple(map(parse_sound, ["s", "z", "r", "l", "sh", "ch", "/θ/", "k", "g", "f"]))
EASY = Places(("initial", "final"), frozenset({()}))  # alone, first or last in the word
LEAST_TARGETS = {"reading": 20, "telling": 4}
MOST_GRADE = {"small": 1.0, "school": 3.0, "adult": 6.0}
READERS = {"school": 8, "adult": 30}  # years


@pytest.mark.parametrize("sound", SOUNDS, ids=lambda s: s.symbol)
def test_each_sound_has_texts_for_three_ages(sound: object) -> None:
    kinds = sorted((t.age, t.level) for t in bank() if t.sound == sound)
    readers = product(("adult", "school"), ("reading", "telling"))
    assert kinds == sorted([*readers, ("small", "telling")])


@pytest.mark.parametrize("text", bank(), ids=lambda t: t.name)
def test_a_text_holds_many_targets_at_easy_places(text: BankText) -> None:
    found = counted(text.text, text.sound, EASY)
    assert len(found) >= LEAST_TARGETS[text.level]
    assert 2 * len(found) >= len(targets_in(text.text, text.sound))
    if text.level == "reading":
        rate = targets_a_minute(len(found), len(words_of(text.text)), READERS[text.age])
        assert rate >= 20  # twice what the check asks for


@pytest.mark.parametrize("text", bank(), ids=lambda t: t.name)
def test_a_text_is_easy_and_every_word_of_it_is_known(text: BankText) -> None:
    assert grade(counts(text.text)) <= MOST_GRADE[text.age]
    assert uncertain_words(text.text, text.sound) == ()
    words = {word.lower() for word in words_of(text.text)}
    assert [word for word in words if not entry(word).readings or entry(word).guessed] == []


def program(text: BankText) -> str:
    years = {"small": 4, **READERS}[text.age]
    reads = "no" if text.age == "small" else "yes"
    return (
        f"age: {years}\nreads: {reads}\nsound: {text.sound.typed or f'/{text.sound.ipa}/'}\n"
        "position: [initial, final]\nmastered: {isolation: 2026-08-01, syllable: 2026-08-10, "
        "word: 2026-09-14, phrase: 2026-10-12, sentence: 2026-11-09}\n"
        f"current: {text.name}\nsteps:\n  - name: {text.name}\n    level: {text.level}\n"
        f'    passage: "{text.text}"\n'
    )


@pytest.mark.parametrize("text", bank(), ids=lambda t: t.name)
def test_the_check_finds_no_fault_in_a_text(text: BankText) -> None:
    """No name, no number, no diagnosis; only advice that belongs to the sound or to a place."""
    found = [f for f in findings_of(program(text)) if not f.accepted]
    assert [f for f in found if f.degree == "fault"] == []
    assert {f.rule for f in found} <= {"age-mean", "age-range", "untaught"}


@pytest.mark.parametrize(
    ("years", "age"), [(3, "small"), (5, "small"), (6, "school"), (12, "school"), (13, "adult")]
)
def test_texts_go_by_age(years: int, age: str) -> None:
    assert age_of(years) == age
    assert age_of(None) == "school"


@pytest.mark.parametrize(
    ("level", "reads", "levels"),
    [
        ("talk", True, ["reading", "telling", "talk"]),
        ("talk", False, ["telling", "talk"]),
        ("telling", False, ["telling"]),
        ("reading", True, ["reading"]),
    ],
)
def test_only_readers_read(level: Past, reads: bool, levels: list[str]) -> None:
    assert list(up_to(level, reads, "wren-11")) == levels


LADDER = """sound: s
position: initial
current: words
words: [sun, soap, sock, seal]   # hers
steps:
  - {name: the sound, level: isolation}
  - {name: with a vowel, level: syllable}
  - {name: words, level: word}
  - {name: phrases, level: phrase, items: [my soap, a sock]}
  - {name: sentences, level: sentence, items: [I see the sun.]}
"""


def extended(text: str, *levels: Past) -> str:
    for level in levels:
        text, made = extended_past(text, client_of(text).programs[0], level)
        assert len(made) == 1
    return text


def test_steps_come_in_order_whatever_was_asked_for_first() -> None:
    text = extended(LADDER, "talk", "reading", "telling")
    program = client_of(text).programs[0]
    levels = [step.level for step in program.steps]
    assert levels[-3:] == ["reading", "telling", "talk"]
    assert text.startswith(LADDER[: LADDER.index("  - {name: sentences")])
    reading, _, talk = program.steps[-3:]
    assert reading.targets == len(targets_of(program.steps, reading, program.sound)) >= 20
    assert reading.passage in {t.text for t in bank()}
    assert (talk.where, talk.company, talk.minutes) == ("at dinner", "the family", 5)


def test_no_text_comes_twice() -> None:
    text = extended(LADDER, "reading")
    assert extended_past(text, client_of(text).programs[0], "reading") == (text, ())
    twice = client_of(extended(LADDER, "talk", "talk")).programs[0].steps[-2:]
    assert [step.where for step in twice] == ["at dinner", "on the way home"]


def test_a_sound_without_texts_has_none() -> None:
    assert draft_past(parse_sound("v"), 8, "reading", EASY) is None
