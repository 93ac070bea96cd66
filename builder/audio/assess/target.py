"""What is measured of the target: how far up it reaches, how it is colored, how loud it is beside
the word, whether a voice or friction sounds in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.assess.measurements import voiced
from builder.audio.dsp.bandwidth import band_edge
from builder.audio.dsp.measures import MEAN_HIGHEST_HZ, spectral_mean
from builder.audio.judge.pieces import FRICTION_HZ, STEP_S, VOICE_HZ, Pieces
from builder.audio.speech import Samples, count

SPECTRUM_MIN_S = 0.030  # from which a spectrum is taken at least
LEVEL_PERCENTILE = 75  # of the target's pieces: the loudest may hold the vowel beside it
NEAR_S = 0.3  # on each side: a syllable of its own word, and not the loudest word of a phrase
EDGE_SHARE = 5  # the fifth of the target at each end belongs to its neighbors, too


@dataclass(frozen=True, kw_only=True)
class TargetMeasurements:
    """reach: the highest frequency in Hz; hidden: whether noise hides what is above.

    mean:    spectral mean in Hz; None: too short, or too low a rate.
    seconds: its length.
    voiced:  share of it that holds a voice, 0..1; 1 where it is not held.
    level:   dB of its loud part beside the loudest moment within NEAR_S, and of half of it
             (`median`); None where that tells nothing: a sound alone, or a voice without a
             microphone.
    voice_over_friction: dB by which what lies below 500 Hz stands above what lies above 2 kHz;
             None as level.
    """

    reach: float
    hidden: bool
    mean: float | None
    seconds: float
    voiced: float
    level: float | None = None
    median: float | None = None
    voice_over_friction: float | None = None


def measure_target(
    samples: Samples,
    rate: int,
    place: tuple[int, int],
    quiet: Samples | None = None,
    *,
    held: bool,
    alone: bool,
) -> TargetMeasurements:
    """Of the target at `place` (samples). The band is looked for in a little more than a target
    that is too short for a spectrum, a voice only in what is held.

    quiet: where nobody speaks; None for a synthetic voice, which has neither noise nor a past.
    """
    start, stop = place
    more = max(0, count(SPECTRUM_MIN_S, rate) - (stop - start)) // 2 + 1
    around = samples[max(0, start - more) : stop + more]
    reach, hidden = band_edge(around, rate, quiet, folds=quiet is not None)
    beside = quiet is not None and not alone and stop > start
    level, median, balance = _beside_the_word(samples, rate, place) if beside else (None,) * 3
    wide = rate >= 2 * MEAN_HIGHEST_HZ  # else there is less friction than was said
    return TargetMeasurements(
        reach=reach,
        hidden=hidden,
        mean=spectral_mean(samples[start:stop], rate) if wide else None,
        seconds=(stop - start) / rate,
        voiced=voiced(samples[start:stop], rate) if held else 1.0,
        level=level,
        median=median,
        voice_over_friction=balance if wide else None,
    )


def _beside_the_word(
    samples: Samples, rate: int, place: tuple[int, int]
) -> tuple[float, float, float]:
    """Its levels beside the loudest moment, and the voice in its middle over the friction."""
    pieces = Pieces(samples, rate)
    first = int(place[0] / (STEP_S * rate))
    past = max(first + 1, int(np.ceil(place[1] / (STEP_S * rate))))
    edge = (past - first) // EDGE_SHARE
    middle = slice(first + edge, max(first + edge + 1, past - edge))
    levels = pieces.level((VOICE_HZ[0], FRICTION_HZ[1]))
    near = round(NEAR_S / STEP_S)
    loudest = levels[max(0, first - near) : past + near].max()
    level, median = np.percentile(levels[first:past], [LEVEL_PERCENTILE, 50]) - loudest
    balance = np.median((pieces.voice - pieces.friction)[middle])
    return float(level), float(median), float(balance)
