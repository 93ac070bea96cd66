"""What a voice hands over: mono samples, their rate, and where in them the target lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Voice = Literal["take", "embedded", "online"]
Samples = NDArray[np.float64]
"""Mono samples, shape (n,), full scale ±1."""


@dataclass(frozen=True)
class Speech:
    """One utterance.

    samples: shape (n,), full scale ±1.
    rate:    samples a second.
    target:  first sample of the target and the one past its last; None when not known.
    voice:   take, embedded or online.
    """

    samples: Samples
    rate: int
    target: tuple[int, int] | None
    voice: Voice


def count(seconds: float, rate: int) -> int:
    """A duration in samples."""
    return round(seconds * rate)
