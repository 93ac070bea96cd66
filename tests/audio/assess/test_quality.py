"""What is said of good recordings and of degraded ones."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from builder.audio.assess.issue import loudness_spread
from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.speech import Samples
from builder.phonetics.inventory import sounds
from tests.support import degraded
from tests.support.audio import RATE, hold, say, sine
from tests.support.degraded import Take, recorded

WORDS = (
    ("seal", "S"),
    ("bus", "S"),
    ("zoo", "Z"),
    ("ship", "SH"),
    ("fish", "SH"),
    ("fan", "F"),
    ("thumb", "TH"),
    ("cow", "K"),
    ("moon", "M"),
    ("leg", "L"),
    ("van", "V"),
    ("chip", "CH"),
)
SEAL, COW = recorded("seal", "S"), recorded("cow", "K")


def assessed(take: Take, symbol: str, score: float | None = 1.0) -> Quality:
    return assess_quality(take.samples, take.rate, take.target, sounds()[symbol], score=score)


def refused(quality: Quality) -> set[str]:
    return {issue.rule for issue in quality.issues if issue.severity == "refused"}


def warned(quality: Quality) -> set[str]:
    return {issue.rule for issue in quality.issues if issue.severity == "warning"}


@pytest.mark.parametrize(("word", "symbol"), WORDS)
@pytest.mark.parametrize("rate", [22050, 24000, 44100, 48000])
def test_a_clean_recording_is_good(word: str, symbol: str, rate: int) -> None:
    found = assessed(recorded(word, symbol, rate), symbol)
    assert found.issues == ()
    assert found.verdict == "good"
    assert not found.refused


FORMS = [(word, symbol, "natural") for word, symbol in WORDS] + [
    (word, symbol, "long") for word, symbol in WORDS if sounds()[symbol].hold == "yes"
]


@pytest.mark.parametrize(("word", "symbol", "form"), FORMS)
def test_a_voice_without_a_room_is_assessed_by_its_target(
    word: str, symbol: str, form: str
) -> None:
    sound = sounds()[symbol]
    speech = hold(say(word, symbol), symbol) if form == "long" else say(word, symbol)
    found = assess_quality(
        speech.samples, speech.rate, speech.target, sound, form=form, synthetic=True
    )
    assert found.issues == ()
    assert found.noise is None


NARROW: dict[str, Callable[[Take], Take]] = {
    "3.4 kHz": lambda take: degraded.low_passed(take, 3400),
    "5 kHz": lambda take: degraded.low_passed(take, 5000),
    "7 kHz": lambda take: degraded.low_passed(take, 7000),
    "8 kHz rate": lambda take: degraded.upsampled(take, 8000),
    "16 kHz rate": lambda take: degraded.upsampled(take, 16000),
    "16 kHz rate, straight lines": lambda take: degraded.joined(take, 16000),
    "telephone": degraded.telephone,
    "MP3, 32 kbit/s": lambda take: degraded.coded(take, "libmp3lame", "mp3", 32000),
    "7 kHz, then noise": lambda take: degraded.noisy(degraded.low_passed(take, 7000), 50),
}


@pytest.mark.parametrize("how", NARROW)
def test_a_narrow_band_is_refused_for_s_and_let_through_for_k(how: str) -> None:
    narrow = assessed(NARROW[how](SEAL), "S")
    assert refused(narrow) == {"band"}
    assert narrow.verdict == "again"
    assert not refused(assessed(NARROW[how](COW), "K"))


@pytest.mark.parametrize("cutoff", ["4000", "8000"])
def test_a_call_is_refused_for_s(cutoff: str) -> None:
    take = recorded("seal", "S", 48000)
    call = degraded.coded(take, "libopus", "ogg", 16000, application="voip", cutoff=cutoff)
    assert "band" in refused(assessed(call, "S"))


@pytest.mark.parametrize(
    ("codec", "kind", "bits"),
    [("libmp3lame", "mp3", 96000), ("aac", "adts", 64000), ("libopus", "ogg", 32000)],
)
def test_good_coding_is_let_through(codec: str, kind: str, bits: int) -> None:
    take = degraded.coded(recorded("seal", "S", 48000), codec, kind, bits)
    assert assessed(take, "S").verdict == "good"


@pytest.mark.parametrize(
    ("word", "symbol", "hertz", "good"),
    [
        ("ship", "SH", 5000, False),
        ("ship", "SH", 7000, True),
        ("chip", "CH", 5000, False),
        ("fan", "F", 7000, False),
        ("fan", "F", 9500, True),
        ("thumb", "TH", 7000, False),
        ("zoo", "Z", 7000, False),
        ("moon", "M", 3400, True),
        ("leg", "L", 3400, True),
    ],
)
def test_each_sound_has_its_own_bound(word: str, symbol: str, hertz: int, good: bool) -> None:
    found = assessed(degraded.low_passed(recorded(word, symbol), hertz), symbol)
    assert ("band" not in refused(found)) is good


def test_the_sentence_names_the_edge_and_what_is_needed() -> None:
    (issue,) = [
        r for r in assessed(degraded.low_passed(SEAL, 5000), "S").issues if r.rule == "band"
    ]
    assert issue.figure in ("5.1 kHz", "5.2 kHz", "5.3 kHz")
    assert issue.sentence.startswith(
        f"Nothing of /s/ is heard above {issue.figure}; it needs at least 9 kHz."
    )


def test_noise_over_the_top_of_s_is_said_as_noise() -> None:
    found = assessed(degraded.noisy(degraded.low_passed(SEAL, 7000), 18), "S")
    (issue,) = [r for r in found.issues if r.rule == "band"]
    assert issue.sentence.startswith("Noise covers /s/ above 7")


@pytest.mark.parametrize(("below", "degree"), [(60, ""), (42, "warned"), (25, "refused")])
def test_noise_is_measured_by_how_far_it_lies_below(below: float, degree: str) -> None:
    found = assessed(degraded.noisy(recorded("cow", "K", below=80), below), "K")
    assert found.noise is not None
    # White noise is weighted more than a voice: 3 to 6 dB.
    assert below - 8 < found.noise < below
    assert ("noise" in warned(found)) is (degree == "warned")
    assert ("noise" in refused(found)) is (degree == "refused")


@pytest.mark.parametrize("mains", [50, 60])
def test_a_hum_is_said_as_a_hum(mains: int) -> None:
    found = assessed(degraded.humming(COW, mains, 0.03), "K")
    assert "hum" in refused(found) | warned(found)
    assert "noise" not in refused(found) | warned(found)


@pytest.mark.parametrize("level", [1.0, 0.5])
def test_clipping_is_refused_also_when_it_was_made_softer(level: float) -> None:
    assert "clipped" in refused(assessed(degraded.clipped(COW, 2.0, level), "K"))
    assert assessed(degraded.clipped(COW, 0.99, level), "K").verdict == "good"


@pytest.mark.parametrize(
    ("first", "last", "which"), [(0.45, 0, "first"), (0, 0.6, "last"), (0.02, 0.02, "")]
)
def test_a_cut_sound_is_refused(first: float, last: float, which: str) -> None:
    found = assessed(degraded.cut(SEAL, first, last), "S")
    cut = [issue for issue in found.issues if issue.rule == "cut"]
    assert [which] * bool(which) == [issue.sentence.split()[1] for issue in cut]


def test_an_offset_much_silence_and_a_soft_voice_are_corrected() -> None:
    silence = np.random.default_rng(1).standard_normal(4 * COW.rate) * 2e-4
    long = degraded.changed(COW, np.concatenate([silence, COW.samples]), moved=4.0)
    for rule, take in {
        "offset": degraded.changed(COW, COW.samples + 0.03),
        "quiet": degraded.changed(COW, COW.samples * 0.04),
        "silence": long,
    }.items():
        found = assessed(take, "K")
        assert warned(found) == {rule}
        assert found.verdict == "good"


def test_two_words_in_one_file_are_warned_of() -> None:
    twice = degraded.changed(COW, np.concatenate([COW.samples, COW.samples]))
    assert "pause" in warned(assessed(twice, "K"))


NOISE = np.random.default_rng(7).standard_normal(2 * RATE) * 0.1
NOTHING = {
    "empty": np.zeros(0),
    "one sample": np.ones(1),
    "silence": np.zeros(RATE),
    "a constant": np.full(RATE, 0.5),
    "a muted microphone": np.round(NOISE * 20) / 32768,
    "hiss": NOISE,
    "hiss between zeros": np.pad(NOISE, RATE),
    "a tone": 0.3 * sine(1000, 2.0, RATE),
    "a click": np.eye(1, RATE, RATE // 2)[0],
    "a clap": np.pad(NOISE[:3000] * np.exp(-np.arange(3000) / 400), RATE) + NOISE[:1] * 1e-3,
    "too short": NOISE[:500],
}


@pytest.mark.parametrize("what", NOTHING)
def test_what_holds_no_speech_is_refused_and_nothing_else_is_said(what: str) -> None:
    samples: Samples = NOTHING[what]
    found = assess_quality(samples, RATE, None, sounds()["S"], score=0.0)
    assert len(found.issues) == 1
    assert refused(found) <= {"empty", "voice", "short"}
    assert found.verdict == "again"


def test_a_whisper_holds_no_voice() -> None:
    start, stop = SEAL.target
    hiss = np.resize(SEAL.samples[start:stop], stop)
    room = SEAL.samples[: round(0.35 * SEAL.rate)]
    samples = np.concatenate([room, hiss, room])
    assert refused(assess_quality(samples, SEAL.rate, None, sounds()["S"])) == {"voice"}


def test_a_sound_alone_needs_no_voice_and_is_all_target() -> None:
    held = hold(say("seal", "S"), "S", 1.2)
    assert held.target
    samples = np.pad(held.samples[slice(*held.target)], RATE // 2)
    samples = samples + np.random.default_rng(8).standard_normal(len(samples)) * 1e-4
    found = assess_quality(samples, RATE, None, sounds()["S"], alone=True)
    assert found.verdict == "good"
    assert found.bandwidth is not None
    assert found.bandwidth > 9000


@pytest.mark.parametrize(("seconds", "good"), [(1.5, True), (0.2, False)])
def test_a_long_form_is_held(seconds: float, good: bool) -> None:
    held = hold(say("seal", "S"), "S", seconds)
    assert held.target
    start, stop = (at + RATE // 2 for at in held.target)
    samples = np.pad(held.samples, RATE // 2)
    found = assess_quality(samples, RATE, (start, stop), sounds()["S"], form="long")
    assert ("length" not in warned(found)) is good


@pytest.mark.parametrize(("symbol", "kept"), [("Z", True), ("S", False)])
def test_a_held_z_keeps_its_voice(symbol: str, kept: bool) -> None:
    """The other one holds an /s/ where a /z/ was asked."""
    said = hold(say("zoo" if symbol == "Z" else "soup", symbol), symbol, 1.5)
    assert said.target
    start, stop = (at + RATE // 2 for at in said.target)
    found = assess_quality(
        np.pad(said.samples, RATE // 2), RATE, (start, stop), sounds()["Z"], form="long"
    )
    assert ("devoiced" not in warned(found)) is kept


@pytest.mark.parametrize(
    ("score", "degree"), [(1.0, ""), (0.45, "warned"), (0.0, "refused"), (None, "")]
)
def test_a_low_score_may_be_another_word(score: float | None, degree: str) -> None:
    found = assessed(COW, "K", score)
    assert ("word" in warned(found)) is (degree == "warned")
    assert ("word" in refused(found)) is (degree == "refused")


def test_another_sound_in_its_place_is_warned_of() -> None:
    found = assess_quality(COW.samples, COW.rate, COW.target, sounds()["K"], substitution="T")
    (issue,) = [r for r in found.issues if r.rule == "sound"]
    assert (issue.severity, issue.sentence) == (
        "warning",
        "/k/ sounds more like /t/: listen to it.",
    )


def test_a_dull_and_a_short_s_are_warned_of_only() -> None:
    start, stop = SEAL.target
    time = (stop - start) / SEAL.rate
    dull = SEAL.samples.copy()
    dull[start:stop] += 0.3 * sine(2000, time, SEAL.rate)[: stop - start]
    assert "dull" in warned(assessed(degraded.changed(SEAL, dull), "S"))
    short = Take(SEAL.samples, SEAL.rate, (start, start + round(0.02 * SEAL.rate)))
    assert "length" in warned(assessed(short, "S"))


def test_the_better_take_ranks_higher() -> None:
    takes = [
        SEAL,
        degraded.noisy(SEAL, 45),
        degraded.noisy(SEAL, 41),
        degraded.low_passed(SEAL, 5000),
    ]
    ranks = [assessed(take, "S").rank for take in takes]
    assert ranks == sorted(ranks, reverse=True)
    assert assessed(SEAL, "S", 0.95).rank > assessed(SEAL, "S", 0.75).rank


def test_a_set_may_differ_by_10_db() -> None:
    assert loudness_spread([-20.0, -25.0, -29.5]) == ()
    assert (
        loudness_spread([]) == loudness_spread([-20.0]) == loudness_spread([-20.0, -np.inf]) == ()
    )
    (issue,) = loudness_spread([-20.0, -25.0, -34.0])
    assert (issue.severity, issue.figure) == ("warning", "14 dB")


def test_every_sentence_is_one_a_therapist_can_act_on() -> None:
    takes = [degraded.low_passed(SEAL, 5000), degraded.clipped(SEAL, 3), degraded.cut(SEAL, 0.45)]
    issues = [issue for take in takes for issue in assessed(take, "S", 0.0).issues]
    assert {issue.rule for issue in issues} >= {"band", "clipped", "cut", "word"}
    for issue in issues:
        assert issue.sentence[0].isupper()
        assert issue.sentence.endswith(".")
        assert ":" in issue.sentence
        assert issue.figure
