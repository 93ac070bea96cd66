from __future__ import annotations

import pytest

from tests.support.clients import rules_of

# Order isolation < syllable < word < phrase < sentence: Van Riper, Speech Correction (1939; 9th ed.
# Van Riper & Erickson 1996), and Bernthal, Bankson & Flipsen 2017; both from memory. Then reading
# aloud, structured talk, everyday talk: the same, from memory.
WORDS = "words: [key, cow, cup, comb, coin]\n"
SYLLABLE = "  - {name: a, level: syllable}\n"
WORD = "  - {name: b, level: word}\n"
PHRASE = "  - {name: c, level: phrase, items: [my key, a cup]}\n"
SENTENCE = "  - {name: d, level: sentence, items: [I see a cow.]}\n"
READING = "  - {name: e, level: reading, passage: We can cut corn. Come and catch a cow.}\n"
TELLING = "  - {name: f, level: telling, passage: Tell about the cow.}\n"
TALK = "  - {name: g, level: talk, where: at dinner, with: Grandpa}\n"


def k(*steps: str, more: str = "") -> list[str]:
    return rules_of(f"sound: k\ncurrent: b\n{more}{WORDS}steps:\n{''.join(steps)}")


@pytest.mark.parametrize(
    ("steps", "more", "rules"),
    [
        pytest.param((SYLLABLE, WORD, PHRASE, SENTENCE), "", [], id="the whole ladder of a stop"),
        pytest.param((WORD,), "", ["start"], id="syllables are neither a step nor mastered"),
        pytest.param((WORD,), "mastered: {syllable: 2026-11-02}\n", [], id="syllables mastered"),
        pytest.param((SYLLABLE, WORD, SENTENCE), "", ["gap"], id="phrases left out in the middle"),
        pytest.param((SYLLABLE, PHRASE, WORD), "", ["order"], id="words after phrases"),
        pytest.param(
            (SYLLABLE, WORD, SENTENCE, PHRASE), "", ["order"], id="sentences before phrases"
        ),
        pytest.param((WORD, SYLLABLE), "", ["order"], id="words before syllables"),
        pytest.param(
            (WORD, SENTENCE),
            "mastered: {syllable: 2026-11-02}\nbecause: {gap: ready for more}\n",
            [],
            id="a gap that the clinician answers for",
        ),
        pytest.param(
            (SYLLABLE, WORD, PHRASE, SENTENCE, READING, TELLING, TALK), "", [], id="all of it"
        ),
        pytest.param((SYLLABLE, WORD, PHRASE, SENTENCE, TALK), "", [], id="each one optional"),
        pytest.param(
            (SYLLABLE, WORD, PHRASE, SENTENCE, TALK, READING), "", ["order"], id="talk too early"
        ),
        pytest.param(
            (SYLLABLE, WORD, PHRASE, TELLING, SENTENCE), "", ["order"], id="sentences too late"
        ),
    ],
)
def test_the_ladder(steps: tuple[str, ...], more: str, rules: list[str]) -> None:
    assert k(*steps, more=more) == rules


def test_a_sound_that_stays_alone_begins_with_isolation() -> None:
    text = "sound: f\ncurrent: b\nwords: [fan, fish, foot, four]\nsteps:\n"
    assert rules_of(text + SYLLABLE + WORD) == ["start"]
    assert rules_of(text + "  - {name: z, level: isolation}\n" + SYLLABLE + WORD) == []


def test_each_position_has_its_own_ladder() -> None:
    text = (
        "sound: k\nposition: [initial, final]\ncurrent: b\n"
        "words: {initial: [key, cow, cup, comb], final: [duck, book, sock, rake]}\nsteps:\n"
        "  - {name: a, level: syllable, position: initial}\n"
        "  - {name: b, level: word, position: initial}\n"
    )
    assert rules_of(text + "  - {name: c, level: syllable, position: final}\n") == []
    # A later position takes up where the sound already is.
    assert rules_of(text + "  - {name: c, level: word, position: final}\n") == []


@pytest.mark.parametrize(
    ("rounds", "rules"),
    [
        ("[natural imitation, natural spontaneous]", []),
        ("[natural spontaneous, natural imitation]", ["support-order"]),
        ("[long imitation, natural imitation]", []),
        ("[natural imitation, long imitation]", ["form-order"]),
        ("[natural imitation, natural spontaneous, natural imitation]", []),
        ("[long imitation, natural imitation, long imitation, natural imitation]", []),
    ],
)
def test_model_before_no_model_and_long_before_natural(rounds: str, rules: list[str]) -> None:
    text = (
        "sound: f\nmastered: {isolation: 2026-10-01, syllable: 2026-11-02}\ncurrent: b\n"
        "words: [fan, fish, foot, four]\nbecause: {few-tries: to begin with}\nsteps:\n"
    )
    assert rules_of(f"{text}  - {{name: b, level: word, rounds: {rounds}}}\n") == rules
