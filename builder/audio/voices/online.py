"""A voice on the network, for those who want it: the words are sent, and nothing else.

It tells no positions, so it offers no long form and no sound alone.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from io import BytesIO
from typing import Any

import gtts
import numpy as np
import soundfile

from builder.audio.speech import Speech
from builder.audio.voices.takes import at_good_rate
from builder.problems import UsageError

_service: Any = gtts  # it carries no types
TIMEOUT = 20.0  # seconds
WAITS = (0.5, 1.0, 2.0)  # seconds before each further try
REGIONS = {"en-GB": "co.uk", "en-AU": "com.au", "en-CA": "ca", "en-IN": "co.in", "en-IE": "ie"}


def speak(text: str, language: str, *, sleep: Callable[[float], None] = time.sleep) -> Speech:
    """The words spoken by the service. Raises UsageError when it cannot be reached."""
    data = _fetched(text, language, sleep)
    try:
        channels, rate = soundfile.read(BytesIO(data), dtype="float64", always_2d=True)
    except soundfile.LibsndfileError as error:
        raise UsageError(f"the online voice sent no audio for '{text}'") from error
    samples, rate = at_good_rate(channels.mean(axis=1), int(rate))
    if not np.any(samples):
        raise UsageError(f"the online voice sent silence for '{text}'")
    return Speech(samples, rate, None, "online")


def _fetched(text: str, language: str, sleep: Callable[[float], None]) -> bytes:
    region = REGIONS.get(language, "com")
    last = ""
    for wait in (*WAITS, None):
        try:
            service = _service.gTTS(text, tld=region, lang=language[:2], timeout=TIMEOUT)
            return b"".join(service.stream())
        except (_service.gTTSError, AssertionError, ValueError) as error:
            last = str(error)
        if wait is not None:
            sleep(wait)
    raise UsageError(
        f"the online voice could not be reached for '{text}' ({last}); "
        "build again when there is a network, or write 'voice: embedded'"
    )
