"""Steps that practice other vowels with r than their program's: one ladder, one file."""

from __future__ import annotations

import pytest

from builder.problems import ProgramError
from builder.program_file.pronounce import of_step, sounds_taught
from builder.recordings.prompts import client_prompts
from tests.support.clients import client_of, findings_of, rules_of

FAMILY = """\
sound: er
position: [final, medial]
mastered: {isolation: 2026-10-01}
current: ar words
steps:
  - {name: er words, level: word, items: [paper, butter, bird, girl]}
  - {name: ar words, level: word, sound: ar, items: [car, star, jar, park]}
  - {name: ar phrases, level: phrase, sound: ar, items: [my car, a big star]}
"""


def rules(text: str) -> list[str]:
    return [rule for rule in rules_of(text) if rule not in ("few-tries", "few-items")]


def test_each_step_has_its_own_sound() -> None:
    (program,) = client_of(FAMILY).programs
    assert [of_step(program, s).sound.typed for s in program.steps] == ["er", "ar", "ar"]
    assert [s.typed for s in sounds_taught(program)] == ["er", "ar"]
    focus = {item.text: item.focus for item in program.steps[1].items}
    assert focus == {"car": (0, 1, 3), "star": (0, 2, 4), "jar": (0, 1, 3), "park": (0, 1, 3)}


def test_what_is_spoken_of_a_step_is_judged_by_its_own_sound() -> None:
    found = {p.text: (p.sound.typed, p.utterance.sound) for p in client_prompts(client_of(FAMILY))}
    assert found["bird"] == ("er", "ER")
    assert found["star"] == ("ar", "AAR")


def test_a_ladder_of_two_passes() -> None:
    assert rules(FAMILY) == []


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        pytest.param("jar, park", "jar, bird", ["no-target"], id="an er among the ar"),
        pytest.param("a big star", "a big party, a park", ["practiced-word"], id="no such word"),
        pytest.param("jar, park", "jar, fork", ["no-target"], id="an or"),
        pytest.param("jar, park", "jar, artist", ["position"], id="where it is not practiced"),
        pytest.param("jar, park", "jar, farmer", [], id="er and ar are both taught"),
        pytest.param("jar, park", "jar, carport", ["partner"], id="or is not"),
    ],
)
def test_words_of_a_step_are_held_against_its_sound(old: str, new: str, found: list[str]) -> None:
    assert rules(FAMILY.replace(old, new)) == found


def test_the_order_of_levels_is_each_ones_own() -> None:
    text = FAMILY.replace("name: er words, level: word", "name: er words, level: phrase")
    assert "order" not in rules(text)
    late = "  - {name: more ar, level: word, sound: ar, items: [far, tar, harp, yarn]}\n"
    assert "order" in rules(FAMILY + late)


@pytest.mark.parametrize(
    ("program", "step", "told"),
    [
        ("er", "k", "`k` cannot be practiced in a program for /ɝ/"),
        ("k", "ar", "`ar` cannot be practiced in a program for /k/"),
        ("er", "th", "could be two sounds"),
    ],
)
def test_only_vowels_with_r_share_a_program(program: str, step: str, told: str) -> None:
    text = FAMILY.replace("sound: er", f"sound: {program}").replace("sound: ar", f"sound: {step}")
    with pytest.raises(ProgramError) as caught:
        findings_of(text)
    assert told in str(caught.value)
