"""Loudness and true peak against published test signals and an independent meter.

Source: EBU Tech 3341 (2023), Loudness metering: 'EBU Mode' metering, Table 1. Its cases 1 to 5 are
tones of 1 kHz, in phase on two channels, 48 kHz; one channel holds half of their power: 3.01 dB
less is wanted here, tolerance 0.1. Cases 15 to 19 are tones whose crests lie between samples,
tolerance +0.2 and -0.4. Cases 6 to 14 and 20 to 23 need more channels, other windows than ours or
the recordings that come with the document. EBU Tech 3342 measures the range of loudness, which is
not measured here.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from builder.audio.dsp.levelling import Levelled, finish
from builder.audio.dsp.measures import k_weighted, loudness, short_loudness, true_peak
from builder.audio.io.encode import mp3
from builder.audio.speech import Samples
from tests.support import degraded
from tests.support.audio import hold, say, sine
from tests.support.degraded import Take, recorded
from tests.support.meter import meter

RATE = 48000
ONE_CHANNEL = 10 * math.log10(2)  # dB
HIGHEST_DBTP = -1.0  # EBU R 128 (2023)
WANTED_LUFS = -18.0  # speech on the internet: AES TD1008 (2021)


def tones(*parts: tuple[float, float]) -> Samples:
    """1 kHz for (seconds, dBFS), one after the other."""
    return np.concatenate([sine(1000, s, RATE) * 10 ** (db / 20) for s, db in parts])


@pytest.mark.parametrize(
    ("signal", "published"),
    [
        pytest.param([(20, -23)], -23.0, id="1"),
        pytest.param([(20, -33)], -33.0, id="2"),
        pytest.param([(10, -36), (60, -23), (10, -36)], -23.0, id="3"),
        pytest.param([(10, -72), (10, -36), (60, -23), (10, -36), (10, -72)], -23.0, id="4"),
        pytest.param([(20, -26), (20.1, -20), (20, -26)], -23.0, id="5"),
    ],
)
def test_integrated_loudness_of_ebu_tech_3341(
    signal: list[tuple[float, float]], published: float
) -> None:
    assert loudness(tones(*signal), RATE) == pytest.approx(published - ONE_CHANNEL, abs=0.1)


@pytest.mark.parametrize(
    ("part", "degrees", "amplitude", "published"),
    [
        pytest.param(4, 0.0, 0.50, -6.0, id="15"),
        pytest.param(4, 45.0, 0.50, -6.0, id="16"),
        pytest.param(6, 60.0, 0.50, -6.0, id="17"),
        pytest.param(8, 67.5, 0.50, -6.0, id="18"),
        pytest.param(4, 45.0, 1.41, 3.0, id="19"),
    ],
)
def test_true_peak_of_ebu_tech_3341(
    part: int, degrees: float, amplitude: float, published: float
) -> None:
    tone = amplitude * sine(RATE / part, 1.0, RATE, phase=math.radians(degrees))
    fade = np.minimum(1, np.arange(RATE) / 4800)  # a tone that starts at once has other peaks
    found = true_peak(tone * fade * fade[::-1])
    assert published - 0.4 <= found <= published + 0.2


def peaky(take: Take) -> Take:
    """Every crest drawn out: softer in loudness, as high in peaks."""
    return degraded.changed(take, np.sign(take.samples) * np.abs(take.samples) ** 1.6)


def rumbling(take: Take) -> Take:
    """The wind, or a lorry: three times as high as the voice, below all voices."""
    time = np.arange(len(take.samples)) / take.rate
    return degraded.changed(take, 0.2 * take.samples + 0.3 * np.sin(2 * np.pi * 12 * time))


TAKES: dict[str, Take] = {
    "a quiet take": degraded.changed(recorded("cow", "K"), recorded("cow", "K").samples * 0.02),
    "a loud take": degraded.clipped(recorded("bus", "S"), 1.0),
    "a clipped take": degraded.clipped(recorded("leg", "L"), 3.0),
    "a noisy take": degraded.noisy(recorded("seal", "S"), 30),
    "an offset": degraded.changed(recorded("moon", "M"), recorded("moon", "M").samples + 0.05),
    "a hum": degraded.humming(recorded("key", "K"), 50, 0.05),
    "a rumble": rumbling(recorded("van", "V")),
    "24 kHz": recorded("fish", "SH", 24000),
    "peaky": peaky(recorded("house", "S")),
    "peaky and short": peaky(recorded("key", "K")),
    "48 kHz": recorded("zoo", "Z", 48000),
}


FORMS = [
    ("seal", "S"),
    ("bus", "S"),
    ("moon", "M"),
    ("ship", "SH"),
    ("van", "V"),
    ("thumb", "TH"),
]


def heard(clip: Levelled, rate: int) -> tuple[float, float]:
    """Loudness and true peak of the clip as a family's tablet decodes it."""
    whole = Take(clip.samples, rate, (0, len(clip.samples)))
    decoded = degraded.decoded(mp3(whole.samples, rate))[0]
    if clip.kind == "LUFS":
        return loudness(decoded, rate), true_peak(decoded)
    return short_loudness(k_weighted(decoded, rate), rate), true_peak(decoded)


@pytest.mark.parametrize("what", TAKES)
def test_every_take_comes_out_at_one_loudness(what: str) -> None:
    take = TAKES[what]
    found, peak = heard(finish(take.samples, take.rate), take.rate)
    assert found == pytest.approx(WANTED_LUFS, abs=1.0)
    assert peak <= HIGHEST_DBTP


@pytest.mark.parametrize(("word", "symbol"), FORMS)
@pytest.mark.parametrize("long", [False, True])
def test_every_clip_of_a_voice_comes_out_at_one_loudness(
    word: str, symbol: str, long: bool
) -> None:
    speech = hold(say(word, symbol), symbol) if long else say(word, symbol)
    clip = finish(speech.samples, speech.rate, speech.target)
    found, peak = heard(clip, speech.rate)
    assert found == pytest.approx(WANTED_LUFS, abs=1.0)
    assert peak <= HIGHEST_DBTP


@pytest.mark.parametrize(("word", "symbol"), FORMS)
def test_an_independent_meter_reads_the_same(word: str, symbol: str) -> None:
    for speech in (say(word, symbol), hold(say(word, symbol), symbol)):
        clip = finish(speech.samples, speech.rate, speech.target)
        assert meter(clip.samples, speech.rate) == pytest.approx(clip.loudness, abs=0.15)
