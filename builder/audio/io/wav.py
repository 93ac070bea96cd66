"""Samples to the bytes of a WAV file, as they are."""

from __future__ import annotations

import wave
from io import BytesIO

import numpy as np

from builder.audio.speech import Samples

BYTES = 3  # 24 bits: no recording holds more
FULL = 2 ** (8 * BYTES - 1)


def wav(samples: Samples, rate: int) -> bytes:
    """One channel in 24 bits at its own rate, without tags; beyond full scale it is clipped."""
    whole = np.clip(np.round(samples * FULL), -FULL, FULL - 1).astype("<i4")
    stream = BytesIO()
    with wave.open(stream, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(BYTES)
        file.setframerate(rate)
        file.writeframes(whole.view(np.uint8).reshape(-1, 4)[:, :BYTES].tobytes())
    return stream.getvalue()
