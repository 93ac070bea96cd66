"""What a room, a cable, a computer or a hasty hand does to a take is told; good takes are let be.

The whole table, of five kinds of speakers: python -m tests.benchmarks.spoiled.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from builder.audio.assess.assess import assess_samples
from builder.audio.assess.disturbances import clicks, deepest_fall, gaps, share_at_top
from builder.audio.assess.measurements import measure
from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.speech import Samples
from builder.phonetics.inventory import sounds
from builder.phonetics.position import Words
from tests.support import degraded, spoiled
from tests.support.audio import hold, place, say
from tests.support.good_takes import one_spoken
from tests.support.spoiled import Recorded, Spoiling

WORDS = {"seal": "S", "moon": "N", "cow": "K"}


@cache
def good(word: str) -> Recorded:
    """The embedded voice near a microphone."""
    symbol = WORDS[word]
    take = degraded.recorded(word, symbol)
    phones, at = place(word, symbol)
    return Recorded(
        speaker="plain",
        word=word,
        words=(phones,),
        focus=(0, at, at + 1),
        sound=sounds()[symbol],
        samples=take.samples,
        rate=take.rate,
        target=take.target,
    )


def judged(take: Recorded) -> Quality:
    return assess_quality(take.samples, take.rate, take.target, take.sound, score=1.0)


def rules(take: Recorded) -> dict[str, str]:
    return {issue.rule: issue.severity for issue in judged(take).issues}


SPOILED: dict[str, tuple[Spoiling, str, str]] = {
    "an echo": (spoiled.reverberant, "echo", ""),
    "crackle": (spoiled.crackling, "crackle", "refused"),
    "dropouts": (spoiled.dropouts, "gaps", "refused"),
    "overdrive": (spoiled.overdriven, "overdrive", ""),
    "a target that is too soft": (lambda take: spoiled.with_gain(take, 0.08), "soft", "warning"),
    "a target that is gone": (spoiled.removed, "soft", "warning"),
}


@pytest.mark.parametrize("word", ["cow", "moon"])
def test_a_word_that_breaks_off_is_told(word: str) -> None:
    assert rules(spoiled.halved(good(word))).get("broken") == "warning"


@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize("what", SPOILED)
def test_each_spoiling_is_told_with_its_reason(what: str, word: str) -> None:
    spoil, rule, degree = SPOILED[what]
    found = rules(spoil(good(word)))
    assert rule in found
    assert degree in ("", found[rule])


@pytest.mark.parametrize("word", WORDS)
def test_the_flat_tops_of_an_overdriven_wave_are_not_told_as_gaps(word: str) -> None:
    take = good(word)
    driven = np.tanh(30 * take.samples / np.abs(take.samples).max())
    found = rules(replace(take, samples=np.round(0.6 * driven * 32767) / 32768))
    assert "overdrive" in found
    assert "gaps" not in found


def as_word(take: Recorded, words: Words) -> str:
    """What is said of a take, judged as one of these words."""
    sound, focus = take.sound, take.focus
    found, _ = assess_samples(
        take.samples, take.rate, words, focus, sound, form="natural", alone=False
    )
    return found.verdict


@pytest.mark.parametrize(
    ("short", "long", "symbol"),
    [
        ("shoe", "shower", "SH"),
        ("key", "keeper", "K"),
        ("car", "carpet", "K"),
        ("tie", "tiger", "T"),
    ],
)
def test_a_word_that_lacks_its_last_syllable_is_doubted(short: str, long: str, symbol: str) -> None:
    """Each is the other's beginning; one is said where both, in turn, are asked for."""
    said, asked = (one_spoken("plain", word, symbol, 1) for word in (short, long))
    assert as_word(said, asked.words) != "good"
    assert as_word(asked, asked.words) == "good"


def test_every_reason_is_a_sentence_that_says_what_to_do() -> None:
    for spoil, rule, _ in SPOILED.values():
        issues = judged(spoil(good("seal"))).issues
        (issue,) = [one for one in issues if one.rule == rule]
        assert issue.sentence[0].isupper() or issue.sentence.startswith("/")
        assert issue.sentence.endswith(".")
        assert issue.figure


def test_crackle_does_not_make_a_narrow_recording_wide() -> None:
    narrow = judged(spoiled.narrow_and_crackling(good("seal")))
    assert narrow.bandwidth == pytest.approx(5000, abs=700)


def tight(take: Recorded, silence: float) -> Samples:
    """So many seconds of silence at each end."""
    first, past = spoiled.sounding(take)
    more = round(silence * take.rate)
    return take.samples[first - more : past + more]


@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize("silence", [0.03, 0.06, 0.12])
def test_what_is_tightly_trimmed_is_not_called_noisy(word: str, silence: float) -> None:
    take = good(word)
    found = measure(tight(take, silence), take.rate)
    assert found.noise is None or found.loudness - found.noise > 42


def test_the_noise_does_not_depend_on_what_is_meant() -> None:
    take = good("seal")
    other = (take.target[1], take.target[1] + take.rate // 10)
    noises = {
        assess_quality(take.samples, take.rate, target, take.sound).noise
        for target in (take.target, other, None)
    }
    assert len(noises) == 1


@pytest.mark.parametrize("word", WORDS)
def test_a_quiet_voice_in_16_bits_has_no_fault_but_that(word: str) -> None:
    take = good(word)
    quiet = np.round(take.samples * 0.06 * 32767) / 32768
    found = assess_quality(quiet, take.rate, take.target, take.sound, score=1.0)
    assert {issue.rule for issue in found.issues} <= {"quiet"}


@pytest.mark.parametrize(("word", "symbol"), [("nose", "N"), ("red", "R"), ("van", "V")])
def test_a_held_hum_alone_is_not_called_overdriven(word: str, symbol: str) -> None:
    held = hold(say(word, symbol), symbol)
    assert held.target
    alone = held.samples[slice(*held.target)]
    recorded = spoiled.in_a_room(alone, held.rate, seed=3)
    found = assess_quality(recorded, held.rate, None, sounds()[symbol], form="long", alone=True)
    assert "overdrive" not in {issue.rule for issue in found.issues}


def test_another_kind_of_sound_in_the_target_s_place_is_told() -> None:
    hiss_for_hum = spoiled.spliced(good("moon"), good("seal"))
    hum_for_hiss = spoiled.spliced(good("seal"), good("moon"))
    assert rules(hiss_for_hum).get("sound") == rules(hum_for_hiss).get("sound") == "warning"


def test_figures_of_what_is_known() -> None:
    """A tone that dies away by 60 dB in a second falls by 9 dB in 0.15 s; gaps, clicks and what
    lies near the peak are counted by hand."""
    rate = 44100
    noise = np.random.default_rng(1).standard_normal(rate)
    tone = np.sin(2 * np.pi * 700 * np.arange(rate) / rate) * 10 ** (-3 * np.arange(rate) / rate)
    assert deepest_fall(tone, rate) == pytest.approx(9, abs=0.5)
    steady = noise * 0.01
    steady[10_000:10_400] = steady[20_000:20_600] = 0.0
    assert gaps(steady, rate) == 2
    hum = 0.1 * np.sin(2 * np.pi * 200 * np.arange(rate) / rate) + noise * 1e-5
    hum[[5000, 15_000, 25_000]] += 0.05
    assert clicks(hum, rate) == 3
    assert share_at_top(np.sign(hum)) == 1.0
    assert share_at_top(np.sin(np.arange(rate))) == pytest.approx(
        0.506, abs=0.01
    )  # 1 - 2 asin(.7)/pi


@pytest.mark.parametrize("samples", [np.zeros(0), np.zeros(5), np.ones(100), np.zeros(44100)])
def test_next_to_nothing_is_borne(samples: Samples) -> None:
    assert (clicks(samples, 44100), gaps(samples, 44100)) == (0, 0)
    assert deepest_fall(samples, 44100) is None
