"""The man's voice: told phones, it says them as slowly as the woman's, lower, always the same."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from builder.audio.align.forced import locate
from builder.audio.dsp.measures import spectral_mean
from builder.audio.speech import Samples, Speech
from builder.audio.voices import man, missing_modules, natural

SEE, SHE = ("S", "IY1"), ("SH", "IY1")
pytestmark = pytest.mark.skipif(bool(missing_modules("man")), reason="it is not installed here")


@pytest.fixture(scope="module")
def see() -> Speech:
    return man.speak((SEE,), "see")


def pitch(samples: Samples) -> float:
    """The voice's frequency in Hz in the loudest 80 ms: the greatest autocorrelation."""
    at = int(np.convolve(samples**2, np.ones(1920), "same").argmax())
    part = samples[max(0, at - 960) : at + 960]
    found = np.correlate(part - part.mean(), part - part.mean(), "full")[len(part) - 1 :]
    return 24000 / (80 + int(found[80:400].argmax()))


def sounding(samples: Samples) -> float:
    """Seconds between the first and last 5 ms within 40 dB of the loudest."""
    power = (samples[: len(samples) // 120 * 120].reshape(-1, 120) ** 2).mean(axis=1)
    loud = np.flatnonzero(power > power.max() * 1e-4)
    return float(loud[-1] - loud[0] + 1) * 0.005


def test_it_is_a_mans_and_as_slow_as_the_womans(see: Speech) -> None:
    """Men speak at 131 Hz in the mean, women at 220 (Hillenbrand, Getty, Clark and Wheeler 1995,
    JASA 97:3099-3111)."""
    hers = natural.speak((SEE,), "see")
    assert (see.rate, see.target, see.voice) == (24000, None, "man")
    assert 85 < pitch(see.samples) < 180 < pitch(hers.samples)
    assert 0.8 < sounding(see.samples) / sounding(hers.samples) < 1.5
    assert np.abs(see.samples[:480]).max() < 0.01  # silence ahead, to be cut off later


def test_its_s_and_sh_are_told_apart_as_speakers_are(see: Speech) -> None:
    """Means of 20 speakers are 6133 and 4229 Hz (Jongman, Wayland and Wong 2000, JASA
    108:1252-1263); his friction lies within half an octave of them, and as far apart."""
    s, sh = (friction(said, word) for said, word in ((see, SEE), (man.speak((SHE,), "she"), SHE)))
    assert 2**-0.5 < s / 6133 < 2**0.5
    assert 2**-0.5 < sh / 4229 < 2**0.5
    assert s / sh > 1.3


def friction(said: Speech, phones: tuple[str, ...]) -> float:
    """The spectral mean of the first sound, Hz."""
    found = locate(said.samples, said.rate, (phones,), (0, 0, 1))
    assert found
    return spectral_mean(said.samples[slice(*found.target)], said.rate) or 0.0


def test_the_same_phones_give_the_same_samples(see: Speech) -> None:
    assert not np.array_equal(man.speak((SHE,), "she").samples, see.samples)
    man._said.cache_clear()
    assert np.array_equal(man.speak_syllable(SEE, (0, 1)).samples, see.samples)


def test_every_length_has_a_style() -> None:
    """256 numbers as the network asks for them, each length near the next."""
    styles = man._styles()
    assert styles.shape == (100, 256)
    steps = np.abs(np.diff(styles, axis=0)).mean(axis=1)
    assert np.isfinite(styles).all()
    assert steps[20:].max() < 0.1 < np.abs(styles).mean()


def test_looking_whether_it_is_there_loads_nothing() -> None:
    code = (
        "import sys; from builder.audio.voices import missing_modules, man;"
        "assert not missing_modules('man'); assert not {'onnxruntime', 'hibari'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
