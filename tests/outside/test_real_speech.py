"""Real people in real files: what the tool says of them must be what a listener knows of them."""

from __future__ import annotations

import numpy as np
import pytest
import soundfile

from builder.audio.align.forced import DOUBTFUL_SCORE, locate
from builder.audio.assess.assess import assess_samples
from builder.audio.assess.quality import Quality
from builder.audio.io.decode import decode
from builder.audio.speech import Samples
from tests.outside.real_speech import RECORDINGS, Spoken, at_hand, spoken

# The model of speech is American: a Spanish syllable or a British vowel may be doubted.
AMERICAN = [one for one in RECORDINGS if one.american]

# Seconds: 40 ms that the alignment may err, 20 ms for reading a fading sound by eye.
NEAR = 0.060


def named(recordings: list[Spoken]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("one", recordings, ids=lambda one: one.name)


def quality(one: Spoken) -> Quality:
    samples, rate = decode(at_hand(one))
    return assess_samples(
        samples, rate, one.words, one.focus, one.sound, form="natural", alone=False
    )[0]


def score(samples: Samples, rate: int, one: Spoken) -> float:
    found = locate(samples, rate, one.words, one.focus)
    return found.score if found else 0.0


def rules(found: Quality) -> set[str]:
    return {issue.rule for issue in found.issues if issue.severity == "refused"}


@named(list(RECORDINGS))
def test_it_is_read_as_another_decoder_reads_it(one: Spoken) -> None:
    """libsndfile; the last block of an OGG file may end elsewhere."""
    samples, rate = decode(at_hand(one))
    channels, other = soundfile.read(str(one.file), dtype="float64", always_2d=True)
    assert rate == other
    assert abs(len(samples) - len(channels)) <= 128
    both = min(len(samples), len(channels))
    assert np.abs(samples[:both] - channels[:both].mean(axis=1)).max() < 1e-5


@named(AMERICAN)
def test_its_word_is_found_in_it(one: Spoken) -> None:
    samples, rate = decode(at_hand(one))
    found = locate(samples, rate, one.words, one.focus)
    assert found is not None
    assert found.score >= DOUBTFUL_SCORE


def test_another_word_is_doubted() -> None:
    """Each recording beside a word of another: nearly always the lower score, rarely a good one."""
    beaten, passed = [], []
    for one, other in zip(AMERICAN, AMERICAN[7:] + AMERICAN[:7], strict=True):
        samples, rate = decode(at_hand(one))
        found = score(samples, rate, other)
        beaten.append(found < score(samples, rate, one))
        passed.append(found >= DOUBTFUL_SCORE)
    assert np.mean(beaten) >= 0.9
    assert np.mean(passed) <= 0.15


@named([one for one in RECORDINGS if one.seen])
def test_its_s_is_found_where_it_is_seen(one: Spoken) -> None:
    samples, rate = decode(at_hand(one))
    found = locate(samples, rate, one.words, one.focus)
    assert found is not None
    assert one.seen is not None
    start, stop = (at / rate for at in found.target)
    assert start == pytest.approx(one.seen[0], abs=NEAR)
    assert stop == pytest.approx(one.seen[1], abs=NEAR)


@named([one for one in spoken("S") if one.kind == "wide"])
def test_a_wide_s_is_let_through(one: Spoken) -> None:
    assert "band" not in rules(quality(one))


@named([one for one in spoken("S") if one.kind in ("narrow", "telephone")])
def test_an_s_without_its_upper_half_is_refused(one: Spoken) -> None:
    assert "band" in rules(quality(one))


@named(spoken("K"))
def test_a_k_is_never_refused_for_its_band(one: Spoken) -> None:
    assert "band" not in rules(quality(one))
