from __future__ import annotations

import numpy as np
import pytest

from builder.audio.speech import Samples
from builder.audio.split.likelihoods import FRAME_S, session_likelihoods
from builder.audio.split.segment_scores import item_states, segment_scores
from builder.audio.voices import embedded
from tests.support.read_lists import phones

TEXTS = ["cow", "ship", "dinosaur", "my shoe is wet"]


def said(text: str) -> tuple[Samples, int]:
    speech = embedded.speak(phones(text), None, text)
    return speech.samples, speech.rate


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("rate", [8000, 16000, 22050, 48000])
def test_the_word_that_was_said_fits_best(text: str, rate: int) -> None:
    import soxr

    samples, own = said(text)
    samples = np.asarray(soxr.resample(samples, own, rate))
    table = session_likelihoods(samples, rate, ((0, len(samples)),))
    last = int(len(samples) / rate / FRAME_S)
    (found,) = segment_scores(table, 0, [last], item_states([phones(other) for other in TEXTS]))
    assert TEXTS[int(np.argmax(found[0]))] == text


def test_a_word_broken_off_fits_its_beginning() -> None:
    samples, rate = said("dinosaur")
    samples = samples[: len(samples) // 2]
    table = session_likelihoods(samples, rate, ((0, len(samples)),))
    last = int(len(samples) / rate / FRAME_S)
    ((whole, begun),) = segment_scores(table, 0, [last], item_states([phones("dinosaur")]))
    assert begun[0] > whole[0] + 10


def test_all_stops_of_one_search_are_those_of_single_ones() -> None:
    samples, rate = said("my shoe is wet")
    table = session_likelihoods(samples, rate, ((0, len(samples)),))
    row = item_states([phones(text) for text in TEXTS])
    together = segment_scores(table, 3, [40, 70, 90], row)
    single = [segment_scores(table, 3, [stop], row)[0] for stop in (40, 70, 90)]
    assert np.allclose(together, single)


@pytest.mark.parametrize("rate", [22050, 24000])
def test_a_frame_lies_at_its_time_after_two_minutes(rate: int) -> None:
    import soxr

    samples, own = said("dinosaur")
    samples = np.asarray(soxr.resample(samples, own, rate))
    quiet = np.zeros(125 * rate)
    table = session_likelihoods(
        np.append(quiet, samples), rate, ((len(quiet), len(quiet) + len(samples)),)
    )
    last = 12500 + int(len(samples) / rate / FRAME_S)
    row = item_states([phones("dinosaur")])
    there = segment_scores(table, 12500, [last], row)[0, 0, 0]
    beside = segment_scores(table, 12500 - 30, [last - 30], row)[0, 0, 0]
    assert there > beside + 20
