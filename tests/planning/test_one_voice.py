"""One voice a round where that costs little, and both words of a pair in one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.clinic import Speaker
from builder.model.plan import Clip, Plan, PlannedStep
from builder.model.practice_view import view_of
from builder.planning.make_plan import SiteContext, as_planned, make
from builder.planning.one_voice import Said
from builder.recordings.prompts import client_prompts
from builder.survey.survey import Survey
from tests.planning.test_make_plan import VERSIONS, take
from tests.support.clients import NOTHING, client_of

WORDS = """\
sound: s
error: /θ/
mastered: {isolation: 2026-10-14, syllable: 2026-11-18}
current: words
position: [final]
words: {final: [bus, house, mouse, ice]}
steps:
  - {name: words, level: word, rounds: [long imitation, natural imitation]}
"""
PAIRS = """\
sound: t
position: [final]
mastered: {syllable: 2026-10-01}
current: pairs
steps:
  - {name: pairs, level: word, rounds: natural imitation, contrast: [[boat, bow], [boat, bone]]}
"""


def planned(text: str, said: Said | None = None, survey: Survey = NOTHING) -> Plan:
    return make(client_of(text), survey, SiteContext("abcdefghjkmnp", VERSIONS), said)


def step_of(plan: Plan) -> PlannedStep:
    return plan.programs[0].steps[0]


def clips_of(plan: Plan, form: str) -> dict[str, Clip]:
    items = step_of(plan).said
    found = {i.text: i.long if form == "long" else i.natural for i in items}
    return {text: clip for text, clip in found.items() if clip}


def recorded(text: str, *stems: str) -> Survey:
    asked = {p.utterance.stem: p.utterance for p in client_prompts(client_of(text))}
    return replace(NOTHING, takes={asked[stem]: (take(f"{stem}.wav"),) for stem in stems})


def spoken(plan: Plan, said: Said, form: str) -> dict[str, Speaker | None]:
    return {text: said.get(c.key, c.voice) for text, c in clips_of(plan, form).items()}


@pytest.mark.parametrize(
    ("left", "others", "alike"),
    [
        pytest.param(["bus", "house"], {}, True, id="half of them: all follow"),
        pytest.param(["bus"], {}, False, id="one of four: each as it is said best"),
        pytest.param(["bus", "house"], {"ice": None}, False, id="it cannot say the fourth"),
    ],
)
def test_a_round_follows_the_voice_that_says_half_of_it(
    left: list[str], others: dict[str, None], alike: bool
) -> None:
    first = planned(WORDS)
    embedded = clips_of(planned(f"voice: embedded\n{WORDS}"), "long")
    said: dict[str, Speaker | None] = {clips_of(first, "long")[w].key: "embedded" for w in left}
    said |= {embedded[word].key: voice for word, voice in others.items()}
    again = planned(WORDS, said)
    voices = spoken(again, said, "long")
    assert (set(voices.values()) == {"embedded"}) == alike
    assert voices["ice"] == ("embedded" if alike else "natural")
    # what its first voice left to the other one is not made a second time
    assert all(clips_of(again, "long")[w] == clips_of(first, "long")[w] for w in left)
    assert clips_of(again, "natural") == clips_of(first, "natural")
    assert as_planned(first, {}, {c.key: c.voice for c in first.clips})
    assert not as_planned(first, {}, said)


def test_a_recording_stays_whoever_says_the_rest() -> None:
    survey = recorded(WORDS, "ice")
    first = planned(WORDS, survey=survey)
    said: dict[str, Speaker | None] = {
        clips_of(first, "natural")[word].key: "embedded" for word in ("bus", "house")
    }
    again = planned(WORDS, said, survey)
    assert spoken(again, said, "natural") == {
        "bus": "embedded",
        "house": "embedded",
        "mouse": "embedded",
        "ice": "recorded",
    }


def paired(plan: Plan, said: Said) -> list[tuple[Speaker | None, ...]]:
    return [
        tuple(said.get(clip.key, clip.voice) for clip in both if clip)
        for both in step_of(plan).paired
    ]


def test_both_words_of_a_pair_are_in_one_voice() -> None:
    first = planned(PAIRS)
    assert step_of(first).paired == ()  # as the items have it
    said: dict[str, Speaker | None] = {clips_of(first, "natural")["bow"].key: "embedded"}
    again = planned(PAIRS, said)
    assert paired(again, said) == [("embedded", "embedded"), ("natural", "natural")]
    assert clips_of(again, "natural")["boat"].voice == "natural"  # alone it is said best
    assert set(clips_of(again, "natural").values()) < set(again.clips)
    # the plan is named by what is heard in the pairs, too, but it is no other practice
    assert view_of(again).digest != view_of(first).digest
    assert view_of(again).practice_digest == view_of(first).practice_digest
    unable = {**said, step_of(again).paired[0][0].key: None}  # type: ignore[union-attr]
    assert step_of(planned(PAIRS, unable)).paired == ()


def test_a_recorded_word_is_not_compared_with_a_machine() -> None:
    plan = planned(PAIRS, survey=recorded(PAIRS, "boat", "bone"))
    assert clips_of(plan, "natural")["boat"].voice == "recorded"
    assert paired(plan, {}) == [("natural", "natural"), ("recorded", "recorded")]


def test_what_the_helper_hears_right_and_wrong_is_in_one_voice() -> None:
    first = planned(WORDS)
    _, right, wrong = first.programs[0].wrong[0]
    assert (right.voice, wrong.voice) == ("natural", "natural")
    said: dict[str, Speaker | None] = {wrong.key: "embedded"}
    _, right, again = planned(WORDS, said).programs[0].wrong[0]
    assert (right.voice, again) == ("embedded", wrong)
