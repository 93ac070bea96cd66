"""Fricatives of the embedded voice beside published measurements of speakers.

Source of the direction: A. Jongman, R. Wayland, S. Wong: Acoustic characteristics of English
fricatives, Journal of the Acoustical Society of America 108(3), 2000, 1252-1263. Spectral means
(first moment) of adult speakers: /s z/ 6133 Hz, /ʃ ʒ/ 4229 Hz, the former always above the
latter; mean frication 178 ms for both.
Source of the ranges: the project's own bounds for this voice between 0.5 and 11 kHz (a voice at
22.05 kHz has no more), set around those means.
"""

from __future__ import annotations

import pytest

from builder.audio.measure import spectral_mean
from tests.audio.helpers import RATE, say, target

PUBLISHED = {"S": 6133.0, "SH": 4229.0}  # Hz
BOUNDS = {"S": (5000.0, 7500.0), "SH": (3300.0, 5000.0)}  # Hz
S = "soup bus messy house mouse pencil basket spoon desk box fox mask lesson goose ice".split()  # noqa: SIM905
SH = "shell ship shoe shark fish dish brush fishing ocean bushes wash splash sugar push".split()  # noqa: SIM905


def mean(word: str, symbol: str) -> float:
    found = spectral_mean(target(say(word, symbol)), RATE)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("word", "symbol"), [(word, "S") for word in S] + [(word, "SH") for word in SH]
)
def test_the_spectral_mean_is_that_of_a_speaker(word: str, symbol: str) -> None:
    low, high = BOUNDS[symbol]
    assert low <= mean(word, symbol) <= high


def test_every_s_lies_above_every_sh() -> None:
    assert min(mean(word, "S") for word in S) > max(mean(word, "SH") for word in SH)


@pytest.mark.parametrize(("symbol", "words"), [("S", S), ("SH", SH)])
def test_the_mean_over_words_is_near_the_published_one(symbol: str, words: list[str]) -> None:
    average = sum(mean(word, symbol) for word in words) / len(words)
    assert average == pytest.approx(PUBLISHED[symbol], rel=0.15)


@pytest.mark.parametrize(("word", "symbol"), [("bus", "S"), ("fish", "SH"), ("shell", "SH")])
def test_frication_lasts_about_as_long_as_a_speakers(word: str, symbol: str) -> None:
    assert len(target(say(word, symbol))) / RATE == pytest.approx(0.178, rel=0.5)
