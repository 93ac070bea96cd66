"""Samples to the bytes of a WAV file, as they are."""

from __future__ import annotations

import wave
from io import BytesIO

import numpy as np

from builder.audio.speech import Samples

SAMPLE_BYTES = 3  # 24 bits: no recording holds more
FULL_SCALE = 2 ** (8 * SAMPLE_BYTES - 1)


def wav(samples: Samples, rate: int) -> bytes:
    """One channel in 24 bits at its own rate, without tags; beyond full scale it is clipped."""
    whole = np.clip(np.round(samples * FULL_SCALE), -FULL_SCALE, FULL_SCALE - 1).astype("<i4")
    stream = BytesIO()
    with wave.open(stream, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(SAMPLE_BYTES)
        file.setframerate(rate)
        file.writeframes(whole.view(np.uint8).reshape(-1, 4)[:, :SAMPLE_BYTES].tobytes())
    return stream.getvalue()
