from __future__ import annotations

from dataclasses import replace

from builder.model.program import Client
from builder.recordings.prompts import client_prompts, prompts
from tests.support.clients import client_of

S = """\
sound: s
position: final
mastered: {isolation: 2026-10-14, syllable: 2026-11-18}
current: words
words: [bus, house]
steps:
  - {name: words, level: word, rounds: [long imitation, natural imitation]}
  - {name: two words, level: phrase, items: [a big bus]}
"""
K = """\
sound: k
mastered: {syllable: 2026-11-02}
current: words
words: [key, cow]
steps:
  - {name: words, level: word, contrast: [[key, tea]]}
"""


def coded(text: str, code: str) -> Client:
    return replace(client_of(text), code=code)


def test_each_item_once_in_each_form_what_is_practised_now_first() -> None:
    assert [(p.stem, p.current) for p in prompts([client_of(S)])] == [
        ("s-long", True),
        ("bus", True),
        ("house", True),
        ("bus-long", True),
        ("house-long", True),
        ("a-big-bus", False),
    ]


def test_one_recording_serves_everyone_and_what_most_need_comes_first() -> None:
    one, other = coded(S, "finch-10"), coded(S.replace("[bus, house]", "[house]"), "finch-11")
    known = {p.stem: p.clients for p in prompts([one, other])}
    assert known["house"] == ("finch-10", "finch-11")
    assert [p.stem for p in prompts([one, other])][:3] == ["s-long", "house", "bus"]


def test_a_held_form_is_a_matter_of_its_sound() -> None:
    lesson = S.replace("[bus, house]", "[lesson]").replace("position: final", "position: medial")
    other = lesson.replace("sound: s", "sound: l").replace("medial", "initial")
    found = prompts([coded(lesson, "finch-10"), coded(other, "finch-11")])
    assert [p.stem for p in found].count("lesson") == 1
    assert [p.stem for p in found].count("lesson-long") == 2


def test_the_counterparts_of_pairs_are_asked_for_too() -> None:
    tea = next(p for p in prompts([client_of(K)]) if p.stem == "tea")
    assert tea.utterance.focus is None


def test_what_is_wanted_tells_targets_apart() -> None:
    assert len({p.utterance for p in client_prompts(client_of(S))}) == len(
        client_prompts(client_of(S))
    )
