"""Pairs of a program on their way to the page and the record."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pydantic import ValidationError

from builder.model.program import Step
from builder.model.record import Trial
from builder.planning.make_plan import SiteContext, make
from builder.problems import ProgramError
from builder.site.blocks.practice import step_page_data
from builder.survey.survey import Survey
from builder.text.wording import wording
from tests.support import plans
from tests.support.clients import NOTHING, client_of

TEXT = """\
sound: t
position: final
mastered: {syllable: 2026-10-01}
current: pairs
steps:
  - {name: pairs, level: word, contrast: [[boat, bow], [key, {word: keet, say: kit}], [boat, bone]]}
"""
DRAWN = replace(NOTHING, drawings={"boat": "26F5", "bow": "1F3F9", "bone": "1F9B4"})
VERSIONS = {"recorded": "1", "embedded": "1", "online": "1"}


def step_of(text: str = TEXT) -> Step:
    (step,) = client_of(text).programs[0].steps
    return step


def test_the_word_with_the_target_goes_first_whatever_the_order() -> None:
    pairs = [(p.target.text, p.other.text) for p in step_of().pairs]
    assert pairs == [("boat", "bow"), ("keet", "key"), ("boat", "bone")]


def test_of_several_readings_the_one_is_taken_that_makes_a_pair() -> None:
    """CMUdict reads `bow` as in bough first; beside `boat` it is the other one."""
    pair = step_of().pairs[0]
    assert (pair.target.words[0].phones, pair.other.words[0].phones) == (
        ("B", "OW1", "T"),
        ("B", "OW1"),
    )
    assert pair.apart == ((2, 3), (2, 2))


def test_a_step_of_pairs_needs_no_list_and_no_rounds() -> None:
    step = step_of()
    assert [item.text for item in step.items] == ["boat", "keet"]
    assert [item.text for item in step.said] == ["boat", "keet", "bow", "key", "bone"]
    assert [(r.contrast, r.form, r.support, r.times) for r in step.rounds] == [
        (True, "natural", "spontaneous", 11)
    ]


def test_written_rounds_come_before_the_contrast() -> None:
    step = step_of(TEXT.replace("contrast:", "rounds: natural imitation, contrast:"))
    assert [(r.support, r.contrast) for r in step.rounds] == [
        ("imitation", False),
        ("spontaneous", True),
    ]
    assert step.tries == 2 + 3 * step.rounds[1].times


def test_written_items_are_said_in_the_other_rounds() -> None:
    step = step_of(
        TEXT.replace("contrast:", "items: [bat, hat], rounds: [natural imitation], contrast:")
    )
    assert [item.text for item in step.items] == ["bat", "hat"]
    assert [item.text for item in step.said] == [
        "bat",
        "hat",
        "boat",
        "bow",
        "keet",
        "key",
        "bone",
    ]


@pytest.mark.parametrize(
    ("written", "sentence"),
    [
        pytest.param("[[boat]]", "has one word instead of two", id="one word"),
        pytest.param("[[]]", "has no words instead of two", id="none"),
        pytest.param("[[boat, bow, bone]]", "has 3 words instead of two", id="three"),
        pytest.param("boat", "needs a list, not text", id="no list"),
        pytest.param("{boat: bow}", "needs a list, not a group of keys", id="a mapping"),
    ],
)
def test_what_is_no_pair_is_told_once(written: str, sentence: str) -> None:
    with pytest.raises(ProgramError) as raised:
        step_of(TEXT[: TEXT.index("[[")] + written + "}\n")
    (finding,) = raised.value.findings
    assert sentence in finding.sentence
    assert "[key, tea]" in finding.remedy


def test_one_pair_needs_no_brackets_around_it() -> None:
    (pair,) = step_of(TEXT[: TEXT.index("[[")] + "[boat, bow]}\n").pairs
    assert (pair.target.text, pair.other.text) == ("boat", "bow")


def test_both_words_of_a_pair_have_clips_pictures_and_a_place_on_the_page() -> None:
    text = TEXT.replace("sound: t", "sound: t\nreads: yes")
    survey = replace(NOTHING, drawings={"bow": "1F3F9", "bone": "1F9B4"})
    plan = make(client_of(text), survey, SiteContext(plans.SLUG, VERSIONS))
    words = ["boat", "keet", "bow", "key", "bone"]
    assert [c.text for c in plan.clips if not c.alone and c != plan.praise] == words
    assert {picture.source for picture in plan.pictures} >= {"1F3F9", "1F9B4"}
    (program,) = plan.programs
    (step,) = program.steps
    (data,) = step_page_data(plan, program, step, plans.facts(plan), wording()).steps
    assert [(one.id, other.id) for one, other in data.pairs] == [
        ("boat", "bow"),
        ("keet", "key"),
        ("boat", "bone"),
    ]
    assert [(r.id, r.contrast) for r in data.rounds] == [("natural-contrast", True)]


def test_who_does_not_read_hears_and_says_the_pairs_without_pictures() -> None:
    text = TEXT.replace("sound: t", "sound: t\nreads: no")
    plan = make(client_of(text), DRAWN, SiteContext(plans.SLUG, VERSIONS))
    (step,) = plan.programs[0].steps
    assert step.imitated == (("keet", "key"),)
    assert [(r.id, r.support, r.contrast) for r in step.rounds] == [
        ("natural-contrast-imitation", "imitation", True),
        ("natural-contrast", "spontaneous", True),
    ]
    (data,) = step_page_data(plan, plan.programs[0], step, plans.facts(plan), wording()).steps
    assert [(one.id, other.id) for one, other in data.imitated] == [("keet", "key")]
    assert [(one.id, other.id) for one, other in data.pairs] == [("boat", "bow"), ("boat", "bone")]


@pytest.mark.parametrize(
    ("survey", "reads", "supports"),
    [
        pytest.param(NOTHING, "no", ["imitation"], id="no picture at all"),
        pytest.param(NOTHING, "yes", ["spontaneous"], id="print to choose from"),
    ],
)
def test_a_round_without_pairs_is_none(survey: Survey, reads: str, supports: list[str]) -> None:
    text = TEXT.replace("sound: t", f"sound: t\nreads: {reads}")
    plan = make(client_of(text), survey, SiteContext(plans.SLUG, VERSIONS))
    assert [r.support for r in plan.programs[0].steps[0].rounds] == supports


TRIAL = {
    "step": "k-pairs",
    "round": "natural-contrast",
    "item": "key",
    "form": "natural",
    "support": "spontaneous",
    "mark": "missed",
    "ms": 700,
}


def test_a_record_keeps_what_was_chosen_and_heard_and_is_silent_elsewhere() -> None:
    contrast = TRIAL | {"chosen": "key", "heard": "tea"}
    assert Trial.model_validate(contrast).model_dump(mode="json") == contrast
    assert Trial.model_validate(TRIAL).model_dump(mode="json") == TRIAL


def test_what_was_chosen_is_an_id_not_a_text() -> None:
    with pytest.raises(ValidationError):
        Trial.model_validate(TRIAL | {"chosen": "Grandma’s key"})
