from __future__ import annotations

from dataclasses import replace

import pytest

from builder.problems import Finding
from tests.support.clients import NOTHING, findings_of

READY = "mastered: {isolation: 2026-10-01, syllable: 2026-11-02}\n"


def told(sound: str, age: str, because: str = "") -> list[Finding]:
    found = findings_of(
        f"{age}sound: {sound}\n{READY}current: a\n{because}"
        "steps:\n  - {name: a, level: isolation}\n"
    )
    return [f for f in found if f.rule in ("age-mean", "age-range") and not f.accepted]


# Crowe & McLeod 2020, AJSLP 29(4):2155-2169, months: /θ/ mean 77.0 range 72-96; /ð/ 69.0, 54-96;
# /s/ 51.3, 24-84; /k/ 37.7, 24-48. A client of 5 is at most 71 months old.
@pytest.mark.parametrize(
    ("sound", "age", "rules"),
    [
        ("/θ/", 4, ["age-range"]),
        ("/θ/", 5, ["age-range"]),
        ("/θ/", 6, []),
        ("/ð/", 3, ["age-range"]),
        ("/ð/", 4, ["age-mean"]),
        ("/ð/", 5, []),
        ("s", 3, ["age-mean"]),
        ("s", 4, []),
        ("k", 1, ["age-range"]),
        ("k", 2, ["age-mean"]),
        ("k", 3, []),
        ("er", 2, []),
        ("s", 40, []),
    ],
)
def test_ages(sound: str, age: int, rules: list[str]) -> None:
    assert [f.rule for f in told(sound, f"age: {age}\n")] == rules


def test_the_figures_name_whom_they_are_about() -> None:
    (found,) = told("/θ/", "age: 5\n")
    assert found.sentence == (
        "US English, single words: 10 studies report /θ/ at 6;5 on average (from 6;0 to 8;0); this "
        "client is 5, younger than in any of them."
    )
    assert found.remedy.endswith("belongs to a dialect or a first language is not an error.")
    assert not {"late", "delayed", "delay"} & set((found.sentence + found.remedy).lower().split())


def test_a_reason_answers() -> None:
    assert told("/θ/", "age: 5\n", "because: {age-range: can be elicited}\n") == []


def sentences(age: int, items: str) -> list[str]:
    found = findings_of(
        f"age: {age}\nsound: k\n{READY}current: a\nsteps:\n"
        f"  - {{name: a, level: sentence, items: [{items}]}}\n"
    )
    return [f.sentence for f in found if f.rule == "long-sentence"]


def test_sentences_have_as_many_words_as_years_and_two() -> None:
    five = "I see a big cow."
    six = "I see a big red cow."
    assert sentences(3, five) == []
    assert sentences(3, f"{five}, {six}") == [
        "'I see a big red cow.' in `a` has more than 5 words, for a client aged 3."
    ]
    assert sentences(4, f"{five}, {six}") == []


def test_rare_words_are_told_together_where_the_index_knows_them() -> None:
    text = (
        f"sound: k\n{READY}current: a\nwords: [key, Kiln, keg, cow]\n"
        "steps:\n  - {name: a, level: word}\n"
    )
    known = replace(NOTHING, zipf={"key": 5.1, "kiln": 2.9, "keg": 2.99})
    assert [f.sentence for f in findings_of(text, known) if f.rule == "rare-word"] == [
        "'kiln' and 'keg' are rarely heard or read."
    ]
    assert [f for f in findings_of(text) if f.rule == "rare-word"] == []


def test_one_long_sentence_has_and_two_have() -> None:
    text = (
        "age: 4\nsound: k\nmastered: {syllable: 2026-11-02, word: 2026-11-03, phrase: 2026-11-04}\n"
        "current: a\nsteps:\n  - {name: a, level: sentence, items: [I see a big old cow now."
    )
    several = ", Give me my big old red cup."
    (one,) = [f for f in findings_of(f"{text}]}}\n") if f.rule == "long-sentence"]
    (two,) = [f for f in findings_of(f"{text}{several}]}}\n") if f.rule == "long-sentence"]
    assert one.sentence.startswith("'I see a big old cow now.' in `a` has more than 6 words")
    assert two.sentence.startswith(
        "'I see a big old cow now.' and 'Give me my big old red cup.' in `a` have more than 6 words"
    )
