from __future__ import annotations

from dataclasses import replace

import pytest

from builder.audio.assess.issue import Issue
from builder.commands.check_command import verdict
from builder.recordings.prompts import client_prompts
from builder.recordings.takes import Take
from builder.survey.survey import Survey
from tests.support.clients import NOTHING, client_of, findings_of

TEXT = """\
sound: s
position: final
mastered: {isolation: 2026-10-14, syllable: 2026-11-18}
current: words
words: [bus, house, ice, mouse, dress]
steps: [{name: words, level: word}]
"""
NARROW = Issue("band", "refused", "The recording stops at 5.1 kHz.", "5.1 kHz")
DULL = Issue("dull", "warning", "/s/ sounds dull: listen to it.", "4.1 kHz")


def survey(**by_stem: Take | tuple[Take, ...]) -> Survey:
    asked = {p.utterance.stem: p.utterance for p in client_prompts(client_of(TEXT))}
    takes = {asked[s]: t if isinstance(t, tuple) else (t,) for s, t in by_stem.items()}
    return replace(NOTHING, takes=takes)


def take(name: str, *issues: Issue, loudness: float = -20.0) -> Take:
    refused = any(r.severity == "refused" for r in issues)
    word = "again" if refused else "doubtful" if issues else "good"
    return Take(
        path=f"takes/{name}",
        digest=name,
        target=(0.1, 0.3),
        verdict=word,  # type: ignore[arg-type]
        issues=issues,
        rank=0.0,
        loudness=loudness,
    )


def said(seen: Survey, text: str = TEXT) -> list[tuple[str, str, str]]:
    found = findings_of(text, seen)
    return [(f.rule, f.sentence, f.remedy) for f in found if f.rule.startswith("take")]


def test_good_recordings_are_not_talked_about() -> None:
    assert said(survey(bus=take("bus.wav"), ice=take("ice.wav"))) == []


def test_nobody_is_asked_to_listen_to_a_refused_recording() -> None:
    assert take("bus.wav", DULL).reasons == ((DULL.sentence, DULL.figure),)
    assert [text for text, _ in take("bus.wav", DULL, NARROW).reasons] == [
        "/s/ sounds dull.",
        NARROW.sentence,
    ]


def test_what_is_not_checked_is_told_beside_recordings_that_are() -> None:
    assert "How the clips sound is not checked" in verdict(findings_of(TEXT))
    listed = verdict(findings_of(TEXT, survey(bus=take("bus.m4a", NARROW))))
    assert "What computer voices say is not checked" in listed


def test_one_finding_a_cause_with_the_figure_of_each_file() -> None:
    seen = survey(bus=take("bus.m4a", NARROW), ice=take("ice.m4a", NARROW))
    assert said(seen) == [
        (
            "take-unfit",
            "Recordings `bus.m4a` (5.1 kHz) and `ice.m4a` (5.1 kHz) are not used. "
            "The recording stops at "
            "5.1 kHz.",
            "Record them again; until then a computer voice speaks.",
        )
    ]


@pytest.mark.parametrize(
    ("voice", "instead"),
    [
        ("helper", "the helper says the word"),
        ("helper\nhelper: self", "nobody says the word"),
        ("online\nhelper: self", "the online voice"),
        ("online", "the online voice"),
    ],
)
def test_it_says_who_is_heard_instead(voice: str, instead: str) -> None:
    seen = survey(bus=take("bus.m4a", NARROW))
    assert instead in said(seen, f"voice: {voice}\n{TEXT}")[0][2]


def test_a_refused_one_beside_a_good_one_is_no_finding() -> None:
    assert said(survey(bus=(take("bus-2.wav"), take("bus.wav", NARROW)))) == []


def test_doubt_is_told() -> None:
    (found,) = said(survey(bus=take("bus.wav", DULL)))
    assert found[:2] == (
        "take-doubtful",
        "Recording `bus.wav` (4.1 kHz) is not used yet. /s/ sounds dull: listen to it.",
    )
    assert "--heard --right bus" in found[2]
    assert found[2].endswith("Until then a computer voice speaks.")


def test_doubt_that_somebody_heard_is_told_no_more() -> None:
    assert said(survey(bus=replace(take("bus.wav", DULL), heard=True))) == []


def test_cuts_wait_until_they_are_heard() -> None:
    (found,) = said(survey(bus=replace(take("bus.wav"), state="unheard")))
    assert found[0] == "take-unheard"
    assert "nobody has listened to it" in found[1]


def test_cuts_with_doubt_are_named_where_there_is_no_other() -> None:
    cut = replace(take("bus.wav"), state="doubtful")
    seen = survey(ice=take("ice.wav"))
    bus, ice = (next(iter(survey(**{word: cut}).takes)) for word in ("bus", "ice"))
    ((rule, sentence, remedy),) = said(replace(seen, doubtful={bus: (cut,), ice: (cut,)}))
    assert rule == "take-unheard"
    assert sentence.startswith("Recording `bus.wav`, cut")
    assert "--right" in remedy


def test_any_other_name_in_the_client_s_own_folder_is_told() -> None:
    seen = replace(NOTHING, strange_takes=("otter-12/takes/zebra.wav",))
    ((rule, sentence, _),) = said(seen)
    assert rule == "take-file"
    assert "`otter-12/takes/zebra.wav` matches no word" in sentence


@pytest.mark.parametrize(("apart", "found"), [(9.0, []), (11.0, ["take-spread"])])
def test_the_spread_of_loudness(apart: float, found: list[str]) -> None:
    seen = survey(bus=take("bus.wav"), ice=take("ice.wav", loudness=-20.0 - apart))
    assert [rule for rule, *_ in said(seen)] == found


def test_a_name_that_is_nearly_right() -> None:
    seen = replace(NOTHING, strange_takes=("hous.wav", "zebra.wav", "mousse.wav"))
    ((rule, sentence, _),) = said(seen)
    assert rule == "take-file"
    assert "`house` is close" in sentence
