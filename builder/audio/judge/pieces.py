"""A clip in short pieces: how loud the voice is in each, how loud what lies above it, and whether a
voice sounds at all."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from builder.audio.dsp.measures import fft_size
from builder.audio.dsp.runs import Mask
from builder.audio.speech import Samples, count

STEP_S = 0.005
HELD_STEP_S = 0.020  # of what is held for a second: it does not change
WINDOW_S = 0.020  # two periods of a low voice
VOICE_HZ = (60.0, 500.0)  # a voice behind a narrow passage of the mouth is heard below 500 Hz
FRICTION_HZ = (2000.0, 11000.0)  # above the voice and the first two formants
PITCH_PERIODS_S = (1 / 400, 1 / 70)  # periods of voices
PITCH_BAND_HZ = 1000.0  # below it periods are looked for, at about four times as many samples
# Correlation of one period with the next from which on there is a voice. Noise below 1 kHz, which
# has no period, reaches 0.6 within 20 ms (common practice, no source).
VOICED_CORRELATION = 0.7
SILENT_DB = -120.0


@dataclass(frozen=True)
class Pieces:
    """The pieces of `samples`: piece k lies around sample k * step * rate; step: in seconds.

    All levels in dB of full scale, SILENT_DB for silence.
    """

    samples: Samples
    rate: int
    step: float = STEP_S

    @cached_property
    def _power(self) -> Samples:
        """Power of the bins of each piece; shape (pieces, bins)."""
        size = count(WINDOW_S, self.rate)
        window = np.hanning(size)
        padded = np.pad(self.samples, size // 2)
        frames = np.lib.stride_tricks.sliding_window_view(padded, size)
        frames = frames[:: count(self.step, self.rate)]
        return np.asarray(
            np.abs(np.fft.rfft(frames * window)) ** 2 / (size * (window**2).sum() / 2)
        )

    def level(self, band: tuple[float, float]) -> Samples:
        """Level of each piece in a band (Hz)."""
        hertz = np.fft.rfftfreq(count(WINDOW_S, self.rate), 1 / self.rate)
        inside = (hertz >= band[0]) & (hertz <= band[1])
        return decibels(self._power[:, inside].sum(axis=1))

    @cached_property
    def voice(self) -> Samples:
        """Level of each piece below 500 Hz."""
        return self.level(VOICE_HZ)

    @cached_property
    def friction(self) -> Samples:
        """Level of each piece above 2 kHz."""
        return self.level(FRICTION_HZ)

    def voiced_among(self, these: Mask) -> Mask:
        """In which of these pieces a voice sounds; the others are not looked at."""
        at = np.flatnonzero(these)
        found = np.zeros(len(these), bool)
        if len(at):
            found[at] = self._periodicity(at) >= VOICED_CORRELATION
        return found

    @property
    def voiced(self) -> Mask:
        """In which pieces a voice sounds."""
        return self.voiced_among(np.ones(len(self.voice), bool))

    def _periodicity(self, at: NDArray[np.intp]) -> Samples:
        """The greatest correlation of the named pieces with what comes a period later, 0..1.

        The normalized cross-correlation of D. Talkin: A robust algorithm for pitch tracking
        (RAPT), in: Speech Coding and Synthesis, Elsevier 1995.
        """
        low, rate = self._below_pitch_band
        size, step = count(WINDOW_S, rate), self.step * rate
        lags = np.arange(count(PITCH_PERIODS_S[0], rate), count(PITCH_PERIODS_S[1], rate) + 1)
        reach = size + int(lags[-1])
        padded = np.pad(low, reach // 2 + 1)
        starts = np.round(at * step).astype(int)
        wide = np.lib.stride_tricks.sliding_window_view(padded, reach)
        wide = wide[np.minimum(starts, len(wide) - 1)]
        later = np.lib.stride_tricks.sliding_window_view(wide, size, axis=1)[:, lags]
        first = wide[:, :size]
        found = np.einsum("ij,ikj->ik", first, later)
        squares = np.cumsum(np.pad(wide**2, ((0, 0), (1, 0))), axis=1)
        power = squares[:, size:] - squares[:, :-size]
        scale = np.sqrt(power[:, :1] * power[:, lags]) + 1e-12
        return np.asarray(np.clip((found / scale).max(axis=1), 0.0, 1.0))

    @cached_property
    def _below_pitch_band(self) -> tuple[Samples, int]:
        """What lies between the lowest voices and 1 kHz, and its rate."""
        step = max(1, int(self.rate / (4 * PITCH_BAND_HZ)))
        size = fft_size(len(self.samples))
        spectrum = np.fft.rfft(self.samples, size)
        hertz = np.fft.rfftfreq(size, 1 / self.rate)
        spectrum[(hertz > PITCH_BAND_HZ) | (hertz < VOICE_HZ[0])] = 0
        low = np.fft.irfft(spectrum, size)[: len(self.samples) : step]
        return np.asarray(low), self.rate // step


def decibels(power: Samples) -> Samples:
    """Power in dB, SILENT_DB at least."""
    return np.asarray(10 * np.log10(np.maximum(power, 10 ** (SILENT_DB / 10))))
