"""Steps past sentences: what counts in their texts, and what stands in for items."""

from __future__ import annotations

import pytest

from builder.model.dose import step_seconds
from builder.model.past_sentences import targets_of
from builder.model.program import LEVELS, PAST_SENTENCES
from tests.support.clients import client_of

TEXT = "Sam sits by the house. A nest is in the moss. Stop the bus."
LADDER = """sound: s
position: initial
current: a text
mastered: {isolation: 2026-08-01, syllable: 2026-08-02}
words: [sun, soap, sock, seal]
steps:
  - {name: words, level: word}
"""


def words(steps: str) -> list[str]:
    program = client_of(steps).programs[0]
    step = program.steps[-1]
    found = targets_of(program.steps, step, program.sound)
    assert step.targets == len(found)
    return [one.word.text for one in found]


@pytest.mark.parametrize(
    ("before", "more", "counted"),
    [
        pytest.param("", "", "Sam sits", id="the program's position, the sound alone"),
        pytest.param(
            "  - {name: stop, level: word, cluster: st, items: [stop, star, stone, stick]}\n",
            "",
            "Sam sits Stop",
            id="and the cluster that a step before it practices",
        ),
        pytest.param(
            "  - {name: ends, level: word, position: final, items: [bus, mouse, house, face]}\n",
            "",
            "Sam sits house moss bus",
            id="and the position of a step before it",
        ),
        pytest.param("", ", position: final", "house moss bus", id="its own position alone"),
        pytest.param("", ", cluster: st, position: [initial]", "Stop", id="its own cluster alone"),
    ],
)
def test_targets_count_where_they_were_practised(before: str, more: str, counted: str) -> None:
    step = f"  - {{name: a text, level: reading{more}, passage: {TEXT}}}\n"
    assert words(LADDER + before + step) == counted.split()


def test_without_steps_before_it_they_count_in_every_cluster() -> None:
    head = "sound: s\nposition: [initial, final]\ncurrent: a text\nsteps:\n"
    step = f"  - {{name: a text, level: reading, passage: {TEXT}}}\n"
    assert words(head + step) == ["Sam", "sits", "sits", "house", "nest", "moss", "Stop", "bus"]


def test_paragraphs_stay_and_lines_within_them_do_not() -> None:
    text = LADDER + (
        "  - name: a text\n    level: telling\n    minutes: 4\n    passage: |\n"
        "      One line\n      and its end.\n\n      A second one.\n"
    )
    program = client_of(text).programs[0]
    step = program.steps[-1]
    assert step.passage == "One line and its end.\nA second one."
    assert (step.items, step.rounds, step.tries, step_seconds(program, step)) == ((), (), 0, 240.0)


def test_a_step_may_name_its_own_sound() -> None:
    text = (
        "sound: er\nposition: final\ncurrent: a text\nsteps:\n"
        "  - {name: a text, level: reading, sound: ar, passage: Her car is far.}\n"
    )
    assert words(text) == ["car", "far"]


def test_a_talk_has_its_situation() -> None:
    text = LADDER + "  - {name: a text, level: talk, where: at dinner, with: Grandpa}\n"
    step = client_of(text).programs[0].steps[-1]
    assert (step.where, step.company, step.minutes) == ("at dinner", "Grandpa", 5)


def test_levels_past_sentences_come_last() -> None:
    assert LEVELS[-3:] == PAST_SENTENCES == ("reading", "telling", "talk")
