"""What is measured on a clip: loudness, true peak, spectral mean. Numpy only: scipy would cost
0.7 s to import."""

from __future__ import annotations

from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from builder.audio.speech import Samples, count

BLOCK_S, HOP_S = 0.400, 0.100  # gating blocks of BS.1770, overlapping by three quarters
GATE_LU = 10.0  # LU below the mean of what passes -70 LUFS; softer blocks do not count
SHORT_BLOCK_S, SHORT_HOP_S = 0.050, 0.025  # for clips that hold no block of 400 ms
SHORT_GATE_DB = -20.0  # dB below the loudest short block; quieter ones do not count
MEAN_LOWEST_HZ, MEAN_HIGHEST_HZ = 500.0, 11000.0  # the band of the spectral mean
WINDOW_S = 0.020
TAPS = 16  # on each side of a point between samples
LoudnessKind = Literal["LUFS", "gated RMS"]


def loudness(samples: Samples, rate: int) -> float:
    """Integrated loudness in LUFS of one channel, by Recommendation ITU-R BS.1770-4.

    -inf for silence and for less than 400 ms.
    """
    return integrated_loudness(k_weighted(samples, rate), rate)


def integrated_loudness(weighted: Samples, rate: int, gate: float = GATE_LU) -> float:
    """The same for samples that are K-weighted already."""
    return gated_loudness(block_power(weighted, count(BLOCK_S, rate), count(HOP_S, rate)), gate)


def gated_loudness(power: Samples, gate: float = GATE_LU) -> float:
    """-0.691 + 10 lg of the blocks' mean power, gated at -70 LUFS and `gate` LU below the rest."""
    power = power[power > _power(-70.0)]
    if len(power):
        power = power[power > power.mean() * 10 ** (-gate / 10)]
    return _level(float(power.mean())) if len(power) else float("-inf")


def short_loudness(weighted: Samples, rate: int) -> float:
    """Gated RMS of a K-weighted clip under 400 ms, on the scale of LUFS; -inf for silence.

    Blocks of 50 ms at most 20 dB below the loudest one are averaged. For
    a steady sound it is what BS.1770 would give, had it gone on (common practice, no source).
    """
    size, step = count(SHORT_BLOCK_S, rate), count(SHORT_HOP_S, rate)
    power = block_power(weighted, size, step)
    loud = power >= power.max(initial=0) * 10 ** (SHORT_GATE_DB / 10)
    power = power[(power > _power(-70.0)) & loud]
    return _level(float(power.mean())) if len(power) else float("-inf")


def _level(power: float) -> float:
    return -0.691 + 10 * float(np.log10(power))


def _power(level: float) -> float:
    return float(10 ** ((level + 0.691) / 10))


def block_power(weighted: Samples, size: int, step: int) -> Samples:
    """Mean square of every whole block of `size` samples, `step` apart. A block is made of whole
    steps: at odd rates it may be some samples shorter."""
    steps, each = len(weighted) // step, size // step
    if steps < each:
        return np.zeros(0)
    pieces = weighted[: steps * step].reshape(steps, step)
    energy = np.einsum("ij,ij->i", pieces, pieces)
    return np.convolve(energy, np.ones(each), "valid") / (each * step)


def k_weighted(samples: Samples, rate: int) -> Samples:
    """The two filters of BS.1770 one after the other, as a product in the frequency domain.

    A third of a second of zeros after the clip takes up their ringing.
    """
    size = fft_size(len(samples) + rate // 3)
    spectrum = np.fft.rfft(samples, size) * _k_response(rate, size)
    return np.asarray(np.fft.irfft(spectrum, size)[: len(samples)])


def fft_size(least: int) -> int:
    """A size from `least` up whose transform is quick: a power of two, or 5 or 6 eighths of one."""
    power = 1 << max(3, (least - 1).bit_length())
    return next(size for size in (power * 5 // 8, power * 3 // 4, power) if size >= least)


@cache
def _k_response(rate: int, size: int) -> NDArray[np.complex128]:
    """Response of the K-weighting at the bins of a transform.

    The standard gives coefficients for 48 kHz only; frequency, quality and gain of the analogue
    filters they stand for, for any rate: F. Mansbridge, S. Finn, J. Reiss: Implementation and
    Evaluation of Autonomous Multi-track Fader Control, AES Convention 132, 2012.
    """
    z = np.exp(-2j * np.pi * np.arange(size // 2 + 1) / size)
    return np.asarray(_shelf(rate, z) * _high_pass(rate, z))


def _shelf(rate: int, z: NDArray[np.complex128]) -> NDArray[np.complex128]:
    k, q = np.tan(np.pi * 1681.974450955533 / rate), 0.7071752369554196
    high = 10 ** (3.999843853973347 / 20)
    band = high**0.4996667741545416
    top = (high + band * k / q + k * k, 2 * (k * k - high), high - band * k / q + k * k)
    return np.asarray((top[0] + top[1] * z + top[2] * z * z) / _poles(k, q, z))


def _high_pass(rate: int, z: NDArray[np.complex128]) -> NDArray[np.complex128]:
    k, q = np.tan(np.pi * 38.13547087602444 / rate), 0.5003270373238773
    # The standard's numerator is 1, -2, 1 as it stands, not divided by the first coefficient.
    scale = 1 + k / q + k * k
    return np.asarray(scale * (1 - z) ** 2 / _poles(k, q, z))


def _poles(k: float, q: float, z: NDArray[np.complex128]) -> NDArray[np.complex128]:
    return np.asarray(1 + k / q + k * k + 2 * (k * k - 1) * z + (1 - k / q + k * k) * z * z)


def true_peak(samples: Samples) -> float:
    """True peak in dBTP: the greatest of the samples and of three points between each two.

    Fourfold oversampling as BS.1770-4, Annex 2, by a windowed sinc of 32 taps; points are
    looked for beside samples that reach half of the greatest one. -inf for silence.

    By hand: soxr meets the published tolerances too, but takes four times as long, and peaks that
    differ by hundredths of a dB would change clips that are published.
    """
    size = np.abs(samples)
    peak = float(size.max(initial=0.0))
    if peak == 0.0:
        return float("-inf")
    padded = np.pad(samples, TAPS)
    hot = np.append(size >= peak / 2, False)
    hot[1:] |= hot[:-1]  # the points before a sample and those after it
    between = np.lib.stride_tricks.sliding_window_view(padded, 2 * TAPS)[hot] @ _between()
    return 20 * float(np.log10(max(peak, float(np.abs(between).max()))))


def midpoints(samples: Samples) -> Samples:
    """The points half-way after each sample, as many as there are samples."""
    return np.convolve(np.pad(samples, (TAPS - 1, TAPS)), _between()[::-1, 1], "valid")


@cache
def _between() -> NDArray[np.float64]:
    """Weights of 32 samples for the points a quarter, a half and three quarters after the 16th."""
    distance = np.arange(2 * TAPS)[:, None] - (TAPS - 1) - np.array([0.25, 0.5, 0.75])
    window = np.i0(8 * np.sqrt(np.maximum(0, 1 - (distance / TAPS) ** 2))) / np.i0(8)
    return np.asarray(np.sinc(distance) * window)


def spectral_mean(samples: Samples, rate: int) -> float | None:
    """First spectral moment in Hz between 0.5 and 11 kHz; None for less than a window.

    sum(f P(f)) / sum(P(f)), P averaged over Hamming windows of 20 ms at half overlap, without
    pre-emphasis. After K. Forrest et al., JASA 84 (1988) 115-123.
    """
    size = count(WINDOW_S, rate)
    if len(samples) < size or not np.any(samples):
        return None
    windows = np.lib.stride_tricks.sliding_window_view(samples, size)[:: size // 2]
    power = (np.abs(np.fft.rfft(windows * np.hamming(size))) ** 2).mean(axis=0)
    frequency = np.fft.rfftfreq(size, 1 / rate)
    inside = (frequency >= MEAN_LOWEST_HZ) & (frequency <= MEAN_HIGHEST_HZ)
    return float((frequency * power)[inside].sum() / power[inside].sum())
