"""Recordings of a sound by itself: "kuh" is no /k/."""

from __future__ import annotations

import pytest

from builder.audio.assess.assess import assess_samples
from builder.phonetics.inventory import sounds
from tests.support.made_sounds import RATE, joined, noise, silence, voice


@pytest.mark.parametrize("symbol", ["P", "T", "K"])
@pytest.mark.parametrize(("vowel", "heard"), [(0.0, False), (0.15, True)])
def test_a_stop_with_a_vowel_behind_it(symbol: str, vowel: float, heard: bool) -> None:
    said, _ = joined(
        silence(0.4),
        noise(0.06, (800.0, 9000.0), -20),
        voice(vowel, -18, top=2000),
        silence(0.4),
    )
    room = noise(len(said) / RATE, (60.0, 8000.0), -75, seed=4)
    quality, _ = assess_samples(
        said + room, RATE, (), None, sounds()[symbol], form="natural", alone=True
    )
    assert ("tail" in {issue.rule for issue in quality.issues}) == heard
    assert (quality.verdict == "doubtful") == heard
