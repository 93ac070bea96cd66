from __future__ import annotations

import pytest

from builder.checks.rules import RULES
from tests.support.clients import findings_of

# A word step that fits, and after it one that does not: current says whether it is published.
HEAD = (
    "sound: k\nmastered: {syllable: 2026-11-02}\n"
    "words: [key, cow, cup, comb, coin]\nsteps:\n  - {name: a, level: word}\n"
)


def degrees(step: str, current: str, *, reads: str = "yes") -> list[tuple[str, str]]:
    found = findings_of(f"reads: {reads}\ncurrent: {current}\n{HEAD}  - {step}\n")
    return [(f.rule, f.degree) for f in found if RULES[f.rule].degree == "fault"]


@pytest.mark.parametrize(
    ("step", "rule"),
    [
        pytest.param("{name: b, level: word, items: [kee, tea]}", "no-target", id="no target"),
        pytest.param("{name: b, level: word, items: [qzx]}", "pronunciation", id="no word"),
        pytest.param("{name: b, level: word, items: [duck]}", "position", id="elsewhere"),
        pytest.param("{name: b, level: phrase, items: [a car]}", "practiced-word", id="new word"),
        pytest.param(
            "{name: b, level: word, items: [{word: cap, picture: cap.png}]}",
            "picture-missing",
            id="no picture",
        ),
        pytest.param(
            "{name: b, level: word, contrast: [[key, toy]]}", "contrast-pair", id="no pair"
        ),
    ],
)
def test_items_of_a_later_step_do_not_block_the_build(step: str, rule: str) -> None:
    assert degrees(step, "b") == [(rule, "fault")]
    assert degrees(step, "a") == [(rule, "advice")]


@pytest.mark.parametrize(
    ("step", "rule"),
    [
        pytest.param("{name: b, level: phrase}", "items", id="nothing to practice yet"),
        pytest.param(
            "{name: b, level: word, items: [{word: cap, say: k4p}]}", "sound", id="no such symbol"
        ),
    ],
)
def test_what_a_later_step_cannot_say_yet_is_advice(step: str, rule: str) -> None:
    assert (rule, "advice") in degrees(step, "a")
    assert not [one for one in degrees(step, "a") if one[1] == "fault"]


def test_the_order_of_levels_is_a_fault_however_late() -> None:
    assert degrees("{name: b, level: sentence, items: [I see a cow.]}", "a") == [("gap", "fault")]
    assert degrees("{name: b, level: syllable}", "a") == [("order", "fault")]


def test_a_list_that_a_published_step_shares_is_published() -> None:
    text = HEAD.replace("coin]", "tea]") + "  - {name: b, level: word}\n"
    (found,) = (f for f in findings_of(f"current: a\n{text}") if f.rule == "no-target")
    assert found.degree == "fault"


def test_advice_on_a_later_step_says_that_it_will_be_a_fault() -> None:
    step = "{name: b, level: word, items: [duck]}"
    (found,) = (f for f in findings_of(f"current: a\n{HEAD}  - {step}\n") if f.rule == "position")
    assert found.remedy.endswith("Once the step is published this is a fault.")
