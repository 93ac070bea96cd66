from __future__ import annotations

import pytest

from tests.support.clients import findings_of, rules_of

# Reading level and situation: Secord 1989 and handbooks, from memory (handbook order of levels).
MASTERED = "{syllable: 2026-08-10, word: 2026-09-14, phrase: 2026-10-12, sentence: 2026-11-09}"
EASY = "We can cut corn. Come and catch a cow. The cat can count."


def program(steps: str, more: str = "", mastered: str = MASTERED, now: str = "x") -> str:
    return f"sound: k\n{more}mastered: {mastered}\ncurrent: {now}\nsteps:\n{steps}"


def reading(text: str, name: str = "x") -> str:
    return f"  - {{name: {name}, level: reading, passage: '{text}'}}\n"


TALK = "  - {name: x, level: talk, where: at dinner, with: Grandpa, minutes: 5}\n"
SENTENCES = "  - {name: s, level: sentence, items: [I see a cow., I see a key.]}\n"


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        pytest.param(program(reading(EASY)), [], id="an easy text for a reader"),
        pytest.param(program(TALK), [], id="a talk with its situation"),
        pytest.param(
            program("  - {name: x, level: talk}\n"), ["situation"], id="a talk without one"
        ),
        pytest.param(
            program("  - {name: x, level: telling}\n"), ["passage"], id="nothing to tell about"
        ),
        pytest.param(program(reading(EASY), "reads: no\n"), ["reads-aloud"], id="not for readers"),
        pytest.param(
            program(f"  - {{name: x, level: telling, passage: {EASY}}}\n", "reads: no\n"),
            [],
            id="who does not read tells",
        ),
        pytest.param(program(reading("We see a boat.")), ["no-target"], id="no target at all"),
        pytest.param(
            program(reading("The kid and I sit by the sea. We see a boat go by. Then we go home.")),
            ["few-targets"],
            id="hardly any",
        ),
        pytest.param(
            program(reading(EASY + " The duck likes a cookie.")),
            ["untaught"],
            id="places that are not practiced",
        ),
        pytest.param(
            program(reading(EASY), mastered="{syllable: 2026-08-10}"),
            ["sentences-first"],
            id="sentences are not mastered",
        ),
        pytest.param(
            program(
                SENTENCES + TALK.replace("minutes: 5", "minutes: 2"),
                mastered="{syllable: 2026-08-10, word: 2026-09-14, phrase: 2026-10-12}",
                now="[s, x]",
            ),
            ["sentences-first"],
            id="sentences are practiced at the same time",
        ),
    ],
)
def test_what_a_step_past_sentences_needs(text: str, rules: list[str]) -> None:
    assert sorted(rules_of(text)) == sorted(rules)


def test_a_text_is_measured_by_the_age_of_its_reader() -> None:
    """Flesch-Kincaid, Kincaid et al. 1975; the limit, the own school year: common practice, no
    source."""
    hard = (
        "Considerable quantities of corn accumulate continuously in capacious containers, and "
        "careful cooks calculate the consumption of every customer accordingly."
    )
    rules = {age: rules_of(program(reading(hard), f"age: {age}\n")) for age in (8, 40)}
    assert all("reading-level" in found for found in rules.values())
    plain = (
        "Cowboys can keep a calm camel in the cold corner of the castle, because it cares for her."
    )
    assert "reading-level" in rules_of(program(reading(plain), "age: 6\n"))
    assert "reading-level" not in rules_of(program(reading(plain), "age: 40\n"))


def test_only_readers_are_asked_for_an_easy_text() -> None:
    hard = "Considerable quantities accumulate continuously in capacious containers."
    text = program(f"  - {{name: x, level: telling, passage: {hard}}}\n", "reads: no\n")
    assert "reading-level" not in rules_of(text)


def test_keys_of_another_level_are_refused() -> None:
    steps = "  - {name: x, level: talk, where: at dinner, with: Grandpa, items: [my key]}\n"
    (found,) = findings_of(program(steps))
    assert (found.rule, found.degree) == ("level-key", "fault")
    steps = "  - {name: x, level: syllable, with: Grandpa}\n"
    (found,) = (
        f for f in findings_of(f"sound: k\ncurrent: x\nsteps:\n{steps}") if f.degree == "fault"
    )
    assert found.sentence == "`x` (syllable) has no use for `with`."


def test_what_is_missing_in_a_later_step_is_advice() -> None:
    later = "  - {name: y, level: talk}\n"
    (found,) = findings_of(program(reading(EASY) + later))
    assert (found.rule, found.degree) == ("situation", "advice")
