"""What a voice hands over: mono samples, their rate, and where in them the target lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from builder.model.clinic import Speaker

Samples = NDArray[np.float64]
"""Mono samples, shape (n,), full scale ±1."""


@dataclass(frozen=True)
class Speech:
    """One utterance.

    samples: shape (n,), full scale ±1.
    rate:    samples a second.
    target:  first sample of the target and the one past its last; None when not known.
    voice:   who speaks: a recording, or one of the voices.
    """

    samples: Samples
    rate: int
    target: tuple[int, int] | None
    voice: Speaker


def count(seconds: float, rate: int) -> int:
    """A duration in samples."""
    return round(seconds * rate)
