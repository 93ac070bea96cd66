"""Plan and clips together: planned anew until everybody speaks as planned."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from builder import spoken
from builder.make import clips as clips_module
from builder.make.clips import Facts
from builder.model.clinic import Speaker
from builder.model.plan import Clip, Plan
from builder.planning.make_plan import SiteContext
from builder.workspace.store import Store
from tests.planning.test_make_plan import VERSIONS
from tests.planning.test_one_voice import WORDS, clips_of
from tests.support.clients import NOTHING, client_of
from tests.support.plans import FACTS

Fallen = Callable[[Clip], Speaker | None]


def made(monkeypatch: pytest.MonkeyPatch, who: Fallen) -> tuple[Plan, dict[str, Facts], int]:
    """A plan and its facts, `who` telling who speaks a clip; and how often clips were asked for."""
    asked: list[int] = []

    def make(clips: Sequence[Clip], store: Store, progress: Callable[[int], None]) -> object:
        asked.append(len(clips))
        progress(len(clips))
        found = {clip.key: who(clip) for clip in clips}
        return {key: replace(FACTS, voice=voice) for key, voice in found.items() if voice}

    monkeypatch.setattr(clips_module, "make", make)
    told: list[tuple[str, int, int]] = []
    context, store = SiteContext("abcdefghjkmnp", VERSIONS), Store(Path("nowhere"))
    plan, facts = spoken.made(
        client_of(WORDS), NOTHING, context, store, lambda *each: told.append(each)
    )
    assert told == [("clips", number, number) for number in asked]
    return plan, facts, len(asked)


def test_clips_that_are_spoken_as_planned_are_asked_for_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    _, _, times = made(monkeypatch, lambda clip: clip.voice)
    assert times == 1


def test_a_round_that_another_voice_says_by_half_is_planned_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    left = ("bus", "house")
    plan, facts, times = made(
        monkeypatch,
        lambda clip: "embedded" if clip.form == "long" and clip.text in left else clip.voice,
    )
    voices = {text: facts[clip.key].voice for text, clip in clips_of(plan, "long").items()}
    assert voices == dict.fromkeys(("bus", "house", "mouse", "ice"), "embedded")
    assert {facts[c.key].voice for c in clips_of(plan, "natural").values()} == {"natural"}
    assert times == 2


def test_what_the_leading_voice_cannot_say_stays_as_it_was(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def who(clip: Clip) -> Speaker | None:
        if clip.form == "long" and clip.text == "ice" and clip.voice == "embedded":
            return None
        return "embedded" if clip.form == "long" and clip.text in ("bus", "house") else clip.voice

    plan, facts, times = made(monkeypatch, who)
    voices = {text: facts[clip.key].voice for text, clip in clips_of(plan, "long").items()}
    assert voices == {"bus": "embedded", "house": "embedded", "mouse": "natural", "ice": "natural"}
    assert times == 3
