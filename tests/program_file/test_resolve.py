from __future__ import annotations

import pytest

from builder.problems import ProgramError
from tests.support.clients import client_of


def steps_of(text: str) -> list[list[str]]:
    return [[item.text for item in s.items] for s in client_of(text).programs[0].steps]


def test_syllables_are_made_of_target_and_vowels() -> None:
    text = "sound: sh\nposition: [initial, medial, final]\ncurrent: a\nsteps:\n"
    assert steps_of(text + "  - {name: a, level: syllable, vowels: [ee, oo]}\n") == [
        ["shee", "shoo", "eeshee", "ooshoo", "eesh", "oosh"]
    ]


def test_words_come_from_the_list_of_their_position() -> None:
    text = (
        "sound: s\nposition: [medial, final]\ncurrent: a\nwords: {medial: [messy], final: [bus]}\n"
    )
    (program,) = client_of(text + "steps:\n  - {name: a, level: word}\n").programs
    assert [(i.text, i.position, i.focus) for i in program.steps[0].items] == [
        ("messy", "medial", (0, 2, 3)),
        ("bus", "final", (0, 2, 3)),
    ]


def test_defaults_are_stated() -> None:
    text = "sound: k\ncurrent: a\nwords: [key]\nsteps:\n  - {name: a, level: word}\n"
    (program,) = client_of(text).programs
    assert program.defaults[0] == "rounds of 'a' (natural imitation, natural spontaneous)"
    assert [(r.form, r.support) for r in program.steps[0].rounds] == [
        ("natural", "imitation"),
        ("natural", "spontaneous"),
    ]


OWN = "sound: k\ncurrent: a\nwords: [key]\nsteps:\n  - {name: a, level: word}\n"


def test_who_listens_may_have_days_of_their_own() -> None:
    days = "practice: {days: [mon, tue, fri], school: {days: [wed, mon]}}\n"
    client = client_of(f"helper: [home, school]\n{days}{OWN}")
    (program,) = client.programs
    assert program.days == client.days_of() == ("mon", "tue", "wed", "fri")
    assert client.days_of("home") == ("mon", "tue", "fri")
    assert client.days_of("school") == ("mon", "wed")
    assert "the clinic's days" not in str(program.defaults)
    clinics = client_of("helper: [home, other home]\npractice: {other home: {days: [sat]}}\n" + OWN)
    assert clinics.days_of("home") == ("mon", "tue", "wed", "thu", "fri")
    assert clinics.days_of() == ("mon", "tue", "wed", "thu", "fri", "sat")
    assert "the clinic's days (mon, tue, wed, thu, fri)" in clinics.programs[0].defaults
    same = client_of(OWN)
    assert same.days_of("home") == same.days_of()


def test_who_listens_may_have_times_of_their_own() -> None:
    times = "practice: {times: [morning, evening], school: {days: [mon], times: [midday]}}\n"
    client = client_of(f"helper: [home, school]\n{times}{OWN}")
    (program,) = client.programs
    assert program.times == client.times_of() == ("morning", "midday", "evening")
    assert client.times_of("home") == ("morning", "evening")
    assert client.times_of("school") == ("midday",)
    assert "the clinic's sittings" not in str(program.defaults)
    alone = client_of(f"helper: [home, school]\npractice: {{school: {{times: midday}}}}\n{OWN}")
    assert alone.days_of("school") == alone.days_of("home") == alone.days_of()
    assert "the clinic's sittings (morning, evening)" in alone.programs[0].defaults


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (
            "practice: {school: {times: [midday]}}\n",
            "`school` has times of its own and is not among those who listen.",
        ),
        (
            "practice: {school: {days: [mon], times: [midday]}}\n",
            "`school` has days and times of its own and is not among those who listen.",
        ),
        ("helper: school\npractice: {school: {}}\n", "`school` says neither days nor times."),
        (
            "helper: school\npractice: {times: [evening], school: {times: [midday]}}\n",
            "These times hold for nobody: each of those who listen has times of its own.",
        ),
        (
            "practice: {school: {days: [mon]}}\n",
            "`school` has days of its own and is not among those who listen.",
        ),
        (
            "helper: school\npractice: {days: [mon], school: {days: [tue]}}\n",
            "These days hold for nobody: each of those who listen has days of its own.",
        ),
    ],
)
def test_days_and_times_that_hold_for_nobody(lines: str, sentence: str) -> None:
    with pytest.raises(ProgramError) as told:
        client_of(lines + OWN)
    assert [one.sentence for one in told.value.findings] == [sentence]


def test_isolation_is_held_when_the_sound_can_be() -> None:
    text = "sound: sh\ncurrent: a\nsteps:\n  - {name: a, level: isolation}\n"
    (program,) = client_of(text).programs
    assert [(r.form, r.support) for r in program.steps[0].rounds] == [("long", "imitation")]


def test_several_current_steps() -> None:
    text = "sound: k\ncurrent: [b, a]\nwords: [key]\nsteps:\n"
    text += (
        "  - {name: a, level: syllable}\n  - {name: b, level: word}\n  - {name: c, level: word}\n"
    )
    (program,) = client_of(text).programs
    assert program.current == (0, 1)
    assert [s.name for s in program.published_steps] == ["a", "b"]


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        ("sound: j", "`j` could be two sounds"),
        ("sound: ee", "is a vowel"),
        ("sound: k\nerror: th", "`th` could be two sounds"),
        ("sound: k\nwords: [{word: key, say: k9}]", "`9` in the pronunciation"),
    ],
)
def test_what_cannot_be_resolved(lines: str, sentence: str) -> None:
    with pytest.raises(ProgramError, match=sentence):
        client_of(f"{lines}\ncurrent: a\nsteps:\n  - {{name: a, level: word}}\n")


def test_several_findings_at_once() -> None:
    text = (
        "sound: k\ncurrent: b\nsteps:\n  - {name: a, level: word}\n  - {name: c, level: phrase}\n"
    )
    with pytest.raises(ProgramError) as problem:
        client_of(text)
    assert [f.rule for f in problem.value.findings] == ["current", "items", "items"]
