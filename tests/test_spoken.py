"""A plan and its clips together, where a service speaks some of them and not others."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builder import pipeline, spoken
from builder.audio.speech import Speech
from builder.audio.voices import ServiceError, embedded, online
from builder.model.plan import Clip
from builder.planning import make_plan
from builder.planning.make_plan import SiteContext
from builder.workspace.store import Store
from tests.support.clients import NOTHING, client_of

TEXT = """\
sound: k
voice: online
current: words
words: [key, cow]
steps: [{name: words, level: word, rounds: [natural imitation]}]
"""
HERE = SiteContext("abcdefghjkmnp", dict.fromkeys(("recorded", "embedded", "online"), "1"))


def test_what_is_planned_anew_for_one_voice_is_still_asked_for_next_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(clip: Clip) -> Speech:
        if clip.text == "key":
            raise ServiceError("The online voice did not speak: no connection.")
        return replace(embedded.say(clip), voice="online")

    monkeypatch.setattr(online, "say", half)
    client, store = client_of(TEXT), Store(tmp_path)
    plan, facts = spoken.made(client, NOTHING, HERE, store, lambda what, done, total: None)
    heard = make_plan.without_missing(plan, facts)
    assert {clip.voice for clip in heard.clips} == {"embedded"}  # one voice for the round
    found = pipeline.waiting(client, facts)
    assert found
    assert "no connection. For now 1 clip is left to the next voice" in found.sentence
    monkeypatch.setattr(online, "say", lambda clip: replace(embedded.say(clip), voice="online"))
    plan, facts = spoken.made(client, NOTHING, HERE, store, lambda what, done, total: None)
    assert {clip.voice for clip in plan.clips if not clip.alone} == {"online"}
    assert pipeline.waiting(client, facts) is None
