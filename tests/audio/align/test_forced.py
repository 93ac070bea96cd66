"""Where phones lie in a recording, whatever its rate, level and silence; and what is no word."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
import soxr

from builder.audio.align.forced import DOUBTFUL_SCORE, align, locate
from builder.audio.speech import Samples, Speech, count
from builder.audio.voices.embedded import speak
from builder.phonetics.lexicon.dictionary import pronunciations
from tests.support.audio import hold, place, say

NEAR = 0.015  # seconds
SEAL, FOOD = (("S", "IY1", "L"),), (("F", "UW1", "D"),)


def target(samples: Samples, rate: int) -> tuple[float, float]:
    """Where the s of `seal` is found, in seconds."""
    found = locate(samples, rate, SEAL, (0, 0, 1))
    assert found is not None
    assert found.score > DOUBTFUL_SCORE
    return found.target[0] / rate, found.target[1] / rate


def true(speech: Speech) -> tuple[float, float]:
    assert speech.target is not None
    return speech.target[0] / speech.rate, speech.target[1] / speech.rate


@pytest.mark.parametrize("rate", [16000, 24000, 44100, 48000])
def test_any_rate(rate: int) -> None:
    speech = say("seal", "S")
    samples = soxr.resample(speech.samples, speech.rate, rate)
    assert target(samples, rate) == pytest.approx(true(speech), abs=NEAR)


def test_a_telephone() -> None:
    speech = say("seal", "S")
    samples = soxr.resample(speech.samples, speech.rate, 8000)
    found = locate(samples, 8000, SEAL, (0, 0, 1))
    assert found is not None
    assert found.target[1] / 8000 == pytest.approx(true(speech)[1], abs=2 * NEAR)


@pytest.mark.parametrize("level", [1.0, 0.1, 0.01, 0.001])
def test_any_level(level: float) -> None:
    speech = say("seal", "S")
    assert target(level * speech.samples, speech.rate) == pytest.approx(true(speech), abs=NEAR)


@pytest.mark.parametrize("noise", [0.0, 1e-4, 1e-3])
@pytest.mark.parametrize(("before", "after"), [(0.0, 0.5), (0.5, 0.0), (2.0, 2.0)])
def test_silence_around(before: float, after: float, noise: float) -> None:
    speech = say("seal", "S")
    wide = (count(before, speech.rate), count(after, speech.rate))
    samples = np.pad(speech.samples, wide)
    samples = samples + noise * np.random.default_rng(3).standard_normal(len(samples))
    start, stop = true(speech)
    found = target(samples, speech.rate)
    assert found == pytest.approx((before + start, before + stop), abs=2 * NEAR)


def test_a_held_target() -> None:
    speech = hold(say("seal", "S"), "S", 2.0)
    assert target(speech.samples, speech.rate) == pytest.approx(true(speech), abs=NEAR)


def test_a_phrase() -> None:
    words = (("DH", "AH0"), ("R", "EH1", "D"), ("B", "UH1", "K"))
    speech = speak(words, (1, 0, 1), "the red book")
    found = locate(speech.samples, speech.rate, words, (2, 2, 3))
    aligned = align(speech.samples, speech.rate, words)
    assert found is not None
    assert aligned is not None
    assert found.target == aligned.spans[-1]
    assert len(aligned.spans) == len(aligned.phone_scores) == 8


@pytest.mark.parametrize(
    ("word", "symbol"),
    [("seal", "L"), ("basket", "K"), ("elephant", "F"), ("clothes", "DH"), ("machine", "SH")],
)
def test_phones_come_in_order(word: str, symbol: str) -> None:
    speech = say(word, symbol)
    aligned = align(speech.samples, speech.rate, (place(word, symbol)[0],))
    assert aligned is not None
    edges = [edge for span in aligned.spans for edge in span]
    assert edges == sorted(edges)
    assert edges[0] >= 0
    assert edges[-1] <= len(speech.samples)
    assert all(start < stop for start, stop in aligned.spans)
    assert all(0 <= score <= 1 for score in aligned.phone_scores)


def test_a_stop_begins_at_its_release() -> None:
    speech = say("sneaker", "K")
    phones, at = place("sneaker", "K")
    aligned = align(speech.samples, speech.rate, (phones,))
    assert aligned is not None
    start, stop = aligned.spans[at][0], aligned.spans[at - 1][1]
    assert (start - stop) / speech.rate > 0.02  # the closure lies between
    assert start / speech.rate == pytest.approx(true(speech)[0], abs=0.005)


@pytest.mark.parametrize(("word", "symbol"), [("seal", "S"), ("cow", "K"), ("thumb", "TH")])
def test_another_word_is_doubtful(word: str, symbol: str) -> None:
    speech = say(word, symbol)
    right = align(speech.samples, speech.rate, (place(word, symbol)[0],))
    wrong = align(speech.samples, speech.rate, FOOD)
    assert right is not None
    assert right.score > DOUBTFUL_SCORE
    assert wrong is None or wrong.score < DOUBTFUL_SCORE


def test_a_wrong_phone_is_known() -> None:
    speech = say("seal", "S")
    wrong = align(speech.samples, speech.rate, (("M", "IY1", "L"),))
    assert wrong is not None
    assert int(np.argmin(wrong.phone_scores)) == 0
    assert wrong.phone_scores[0] < DOUBTFUL_SCORE < min(wrong.phone_scores[1:])


def noise(seconds: float, level: float = 0.1) -> Samples:
    return level * np.random.default_rng(1).standard_normal(count(seconds, 22050))


@pytest.mark.parametrize(
    "samples",
    [
        np.zeros(0),
        np.zeros(22050),
        np.ones(22050),
        noise(0.01),
        noise(0.05),
        np.full(9000, np.nan),
        np.array([1.0]),
    ],
    ids=["nothing", "silence", "offset", "10 ms", "50 ms", "no numbers", "one sample"],
)
def test_in_nothing_nothing_is_found(samples: Samples) -> None:
    assert align(samples, 22050, SEAL) is None
    assert locate(samples, 22050, SEAL, (0, 0, 1)) is None


@pytest.mark.parametrize("level", [1e-6, 0.01, 1.0])
def test_noise_is_no_word(level: float) -> None:
    found = align(noise(1.0, level), 22050, SEAL)
    assert found is None or found.score < DOUBTFUL_SCORE


def test_no_words() -> None:
    speech = say("seal", "S")
    assert align(speech.samples, speech.rate, ()) is None
    assert align(speech.samples, speech.rate, ((),)) is None


def test_the_same_first_and_last() -> None:
    speech = say("seal", "S")
    first = align(speech.samples, speech.rate, SEAL)
    for other in ("cow", "thumb"):
        align(say(other, "K" if other == "cow" else "TH").samples, speech.rate, FOOD)
    align(noise(1.0), 22050, SEAL)
    assert align(speech.samples, speech.rate, SEAL) == first


def test_nothing_is_printed_and_no_decoder_loaded() -> None:
    script = (
        "import sys\n"
        "from builder.audio.align.forced import align\n"
        "from tests.support.audio import say\n"
        "speech = say('seal', 'S')\n"
        "assert align(speech.samples, speech.rate, (('S', 'IY1', 'L'),))\n"
        "assert not {'pocketsphinx', 'speech_recognition'} & set(sys.modules)\n"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout == ran.stderr == ""


@pytest.mark.parametrize("left_out", [0, 1])
def test_a_phrase_that_lacks_a_word_is_doubtful(left_out: int) -> None:
    words = tuple(pronunciations(word)[0] for word in ("my", "house"))
    for said, sure in ((words, True), ((words[1 - left_out],), False)):
        speech = speak(said, None)
        samples = np.pad(speech.samples, speech.rate // 2)
        found = align(samples, speech.rate, words)
        assert (found is not None and found.score >= DOUBTFUL_SCORE) is sure
