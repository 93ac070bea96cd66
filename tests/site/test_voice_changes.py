from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from builder.audio.voices.suitability import suitability_of
from builder.make.clips import Facts
from builder.model.clinic import Speaker
from builder.model.plan import PlannedStep
from builder.site.blocks.practice import PageData
from builder.site.pages import pages
from builder.site.voice_changes import LedRound, VoiceChange, led_rounds, voice_changes
from tests.site.test_pages import Reader, block
from tests.support import plans

SH = plans.plan(plans.program_sh())
LINE = "Some words are said by another voice."


def facts(**voices: Speaker | tuple[Speaker, str]) -> dict[str, Facts]:
    """Facts of clips by name; a voice, or one with the reason why not the one that was asked."""
    found = plans.facts(SH)
    for name, said in voices.items():
        voice, why = said if isinstance(said, tuple) else (said, "")
        key = name.replace("_", "-")
        found[key] = replace(found[key], voice=voice, instead=why)
    return found


def changes(known: Mapping[str, Facts], step: PlannedStep = SH.programs[0].steps[1]) -> object:
    return voice_changes(step, known)


def test_one_voice_is_no_change() -> None:
    assert changes(facts()) == ()
    # a natural and a long round in a voice each are one voice a round
    natural: dict[str, Speaker] = {
        f"{i.id}_natural": "natural" for i in SH.programs[0].steps[1].items
    }
    assert changes(facts(**natural)) == ()


@pytest.mark.parametrize(
    ("voice", "why"),
    [
        pytest.param(("natural", "It has too little voice."), "It has too little voice", id="told"),
        pytest.param("recorded", "", id="recorded"),
        pytest.param("natural", "", id="the voice that leads could say it, too"),
    ],
)
def test_the_words_and_the_reason(voice: Speaker | tuple[Speaker, str], why: str) -> None:
    name = voice if isinstance(voice, str) else voice[0]
    known = facts(wish_natural=voice, push_natural=voice)
    found = VoiceChange("natural", "embedded", ((name, why, ("wish", "push")),))
    assert changes(known) == (found,)


def test_the_reason_is_what_is_known_of_the_voice_that_leads() -> None:
    """The program of /ʃ/ with clips whose target is a stop: no voice holds that."""
    reason = suitability_of("embedded", "K", "long", "final").reason
    (found,) = voice_changes(SH.programs[0].steps[1], facts(wish_long="natural"))
    assert found.others == (("natural", reason, ("wish",)),)


def test_pairs_are_looked_at_as_they_are_heard() -> None:
    program = plans.program_k()
    step = program.steps[1]
    contrast = replace(step.rounds[0], id="contrast", contrast=True)
    key, cow, cup, *_ = step.items
    pairs = replace(step, rounds=(contrast,), pairs=(("key", "cow"), ("cup", "cow")))
    known = plans.facts(plans.plan(program))
    known["cow-natural"] = replace(plans.FACTS, voice="natural")
    assert [(c.round, c.others[0][2]) for c in voice_changes(pairs, known)] == [("pairs", ("cow",))]
    assert cow.natural
    other = replace(cow.natural, key="cow-embedded")
    known["cow-embedded"] = plans.FACTS
    alike = replace(pairs, paired=((key.natural, other), (cup.natural, other)))
    assert voice_changes(alike, known) == ()


def test_the_helper_is_told_on_the_page_and_before_the_rounds() -> None:
    for known, told in ((facts(), False), (facts(wish_natural="natural"), True)):
        page = {p.path: p for p in pages(SH, known)}["sh-final-words"]
        assert [s.changes for s in PageData.model_validate(block(page)).steps] == [told]
        text = " ".join(Reader(page.html).text.split())
        assert text.count(LINE) - text.count('"changes":"For the helper: ' + LINE) == told, text
        assert text.count("A computer voice speaks here.") == 1


def test_a_round_that_follows_another_voice_is_told_with_the_words_it_could_not_keep() -> None:
    """The natural voice does not hold a first /f/, as the table has it."""
    step = SH.programs[0].steps[1]
    first = {
        item.id: replace(item.long, words=(("F", "IH1", "SH"),), focus=(0, 0, 1))
        for item in step.items
        if item.long
    }
    assert not suitability_of("natural", "F", "long", "initial").offered
    items = tuple(
        replace(item, long=first[item.id], position="medial" if item.id == "wash" else "initial")
        for item in step.items
    )
    whole = replace(step, items=items)
    assert led_rounds(whole, facts(), "natural") == (LedRound("long", "embedded", ("wash",)),)
    assert led_rounds(whole, facts(), "embedded") == ()
    assert led_rounds(whole, facts(dish_long="natural"), "natural") == ()
