from __future__ import annotations

from dataclasses import replace

from builder.plan import Plan
from builder.planning import Outside, make
from builder.survey import Found, Survey
from tests.clients import NOTHING, client_of

TEXT = """\
sound: s
position: [medial, final]
mastered: {isolation: 2026-10-14, syllable: 2026-11-18}
current: words
words: {medial: [messy], final: [bus, house]}
steps:
  - {name: words, level: word, rounds: [long imitation, natural imitation, natural spontaneous]}
  - {name: two words, level: phrase, position: final, items: [a big bus]}
"""
VERSIONS = {"take": "1", "embedded": "1", "online": "1"}


def plan_of(text: str = TEXT, survey: Survey = NOTHING, **versions: str) -> Plan:
    return make(client_of(text), survey, Outside("abcdefghjkmnp", {**VERSIONS, **versions}))


def test_later_steps_are_not_published() -> None:
    (program,) = plan_of().programs
    assert [step.id for step in program.steps] == ["s-words"]
    assert "big" not in repr(plan_of())


def test_earlier_steps_stay_as_refreshers() -> None:
    (program,) = plan_of(TEXT.replace("current: words", "current: two words")).programs
    assert [(s.id, s.current, s.easier) for s in program.steps] == [
        ("s-words", False, ""),
        ("s-two-words", True, "s-words"),
    ]


def test_the_letters_of_the_target_are_set_off() -> None:
    (program,) = plan_of(TEXT.replace("current: words", "current: two words")).programs
    shown = {item.text: item.letters for step in program.steps for item in step.items}
    assert shown["messy"] == (("me", False), ("ss", True), ("y", False))
    assert shown["a big bus"] == (("a big ", False), ("bu", False), ("s", True))


def test_a_long_form_is_planned_only_where_a_round_asks_for_it() -> None:
    plan = plan_of()
    assert {(c.text, c.form) for c in plan.clips if not c.alone} == {
        (text, form) for text in ("messy", "bus", "house") for form in ("natural", "long")
    }
    natural = TEXT.replace("long imitation, ", "")
    assert {c.form for c in plan_of(natural).clips if not c.alone} == {"natural"}


def test_the_key_is_all_that_decides_the_sound() -> None:
    first, again = plan_of().clips, plan_of().clips
    assert first == again
    assert len({clip.key for clip in first}) == len(first)
    newer = plan_of(embedded="2").clips
    assert not {c.key for c in first} & {c.key for c in newer}
    slower = plan_of(TEXT.replace("level: word,", "level: word, hold: 2,")).clips
    changed = {c.form for c in slower if c.key not in {d.key for d in first}}
    assert changed == {"long"}


def test_a_take_replaces_the_voice() -> None:
    survey = replace(NOTHING, takes={("bus", "natural"): Found("takes/bus.wav", "digest")})
    voices = {(c.text, c.form): c.voice for c in plan_of(survey=survey).clips}
    assert voices[("bus", "natural")] == "take"
    assert voices[("bus", "long")] == "embedded"
    assert voices[("house", "natural")] == "embedded"


def test_an_online_voice_is_never_asked_for_a_sound_alone_or_held() -> None:
    voices = {(c.alone, c.form): c.voice for c in plan_of(f"voice: online\n{TEXT}").clips}
    assert voices == {
        (True, "long"): "embedded",
        (False, "natural"): "online",
        (False, "long"): "embedded",
    }


def test_a_step_that_is_gone_keeps_its_address() -> None:
    plan = plan_of(survey=replace(NOTHING, gone=("s-old", "s-words")))
    assert plan.gone == ("s-old",)
    assert plan.digest == plan_of().digest


def test_pictures_own_first_then_drawings_then_none() -> None:
    own = {"bus.png": Found("finch-10/bus.png", "digest")}
    survey = replace(NOTHING, own=own, drawings={"bus": "1F68C", "house": "1F3E0"})
    (program,) = plan_of(survey=survey).programs
    kinds = {i.text: i.picture and i.picture.kind for i in program.steps[0].items}
    assert kinds == {"messy": None, "bus": "own", "house": "drawing"}
    assert "bus.png" not in [p.path for p in plan_of(survey=survey).pictures]


def test_nothing_private_is_in_what_pages_are_made_of() -> None:
    plan = plan_of()
    assert "2026-10-14" not in repr(plan.programs)
    assert "2026-12-03" not in repr(plan)
    assert "18" not in repr(plan.programs[0].cues)


def test_addresses() -> None:
    plan = plan_of()
    assert plan.address == "https://practice.example.org/abcdefghjkmnp/"
    codes = [step.code for program in plan.programs for step in program.steps]
    assert [c and c.address for c in codes] == [plan.address + "s-words/"]
