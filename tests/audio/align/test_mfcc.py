"""Warping the filters: vowels of a shorter or longer vocal tract look as those of another one.

Vowels are the formants that were measured (tests/outside/speakers.py), as poles of a spectrum (G.
Fant: Acoustic theory of speech production, 1960); their widths are common practice, no source.
"""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.align import mfcc
from builder.audio.speech import Samples
from builder.audio.split.speaker_warp import NARROWEST, WIDEST
from tests.outside.speakers import MEN, WOMEN, Range

WARPS = np.round(np.arange(NARROWEST, WIDEST + 0.01, 0.01), 2)
HIGHER_HZ = (3500.0, 4500.0, 5500.0, 6500.0, 7500.0)  # of a tract of 17.5 cm, which the tables lack
WIDTH_SHARE, WIDTH_MIN_HZ = 0.04, 60.0


def vowels(table: dict[str, tuple[Range, Range, Range]], factor: float = 1.0) -> Samples:
    """Power spectra, a row a vowel, all formants times `factor`."""
    hertz = np.linspace(0, mfcc.RATE_HZ / 2, mfcc.FFT_SIZE // 2 + 1)
    rows = []
    for ranges in table.values():
        formants = factor * np.array([*(sum(one) / 2 for one in ranges), *HIGHER_HZ])
        widths = np.maximum(WIDTH_MIN_HZ, WIDTH_SHARE * formants)
        poles = (hertz[:, None] ** 2 - formants**2) ** 2 + (hertz[:, None] * widths) ** 2
        rows.append(np.prod(formants**4 / poles, axis=1) * 1e9)
    return np.array(rows)


def best_warp(of: Samples, like: Samples) -> float:
    """With which one spectra look most like others."""
    wanted = mfcc.features_of(like)[0][:, : mfcc.CEPSTRA]
    off = [
        np.abs(mfcc.features_of(of, float(warp))[0][:, : mfcc.CEPSTRA] - wanted).sum()
        for warp in WARPS
    ]
    return float(WARPS[int(np.argmin(off))])


@pytest.mark.parametrize("factor", [0.9, 0.95, 1.0, 1.05, 1.12, 1.2, 1.3])
def test_a_known_factor_is_found(factor: float) -> None:
    assert best_warp(vowels(MEN, factor), vowels(MEN)) == pytest.approx(factor, abs=0.03)


def test_women_beside_men() -> None:
    # Their formants lie 10 to 20 % higher: G. Fant: A note on vocal tract size factors and
    # non-uniform F-pattern scalings. STL-QPSR 7 (1966) 22-30 (recalled).
    assert 1.08 <= best_warp(vowels(WOMEN), vowels(MEN)) <= 1.22


@pytest.mark.parametrize("warp", [NARROWEST, 1.0, 1.12, WIDEST])
def test_frequencies_stay_in_the_band_and_in_order(warp: float) -> None:
    hertz = np.linspace(0, mfcc.RATE_HZ / 2, 200)
    moved = mfcc.warped(hertz, warp)
    assert np.all(np.diff(moved) > 0)
    assert (moved[0], moved[-1]) == (0, pytest.approx(mfcc.RATE_HZ / 2))
    assert moved[20] == pytest.approx(warp * hertz[20])
    assert warp != 1.0 or moved == pytest.approx(hertz)


@pytest.mark.parametrize("warp", [NARROWEST, WIDEST])
def test_no_filter_is_empty(warp: float) -> None:
    flat = np.ones((2, mfcc.FFT_SIZE // 2 + 1))
    flat[1] *= 1e6
    features, levels = mfcc.features_of(flat, warp)
    assert np.all(np.isfinite(features))
    # One filter without a bin would be at the floor and keep its level down.
    assert levels[1] - levels[0] == pytest.approx(60, abs=0.1)
