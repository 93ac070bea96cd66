"""Loudness by pyloudnorm, a meter that is not ours (ITU-R BS.1770-4)."""

from __future__ import annotations

import warnings
from importlib import import_module
from typing import Any

from builder.audio.speech import Samples


def meter(samples: Samples, rate: int) -> float:
    """The integrated loudness, LUFS."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pyloudnorm: Any = import_module("pyloudnorm")
        return float(pyloudnorm.Meter(rate).integrated_loudness(samples))
