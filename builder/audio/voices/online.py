"""A voice on the network, for those who want it: the words are sent, and nothing else.

It speaks words only, no sound alone, and tells no positions: they are found in what it said.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import gtts
import numpy as np

from builder.audio.io.decode import decode
from builder.audio.speech import Speech
from builder.audio.voices.recorded import at_good_rate
from builder.problems import UsageError

if TYPE_CHECKING:
    from builder.model.plan import Clip

_service: Any = gtts  # it carries no types
PACE = "the service's own pace"
TIMEOUT_S = 20.0
RETRY_WAITS_S = (0.5, 1.0, 2.0)  # before each further try
REGIONS = {"en-GB": "co.uk", "en-AU": "com.au", "en-CA": "ca", "en-IN": "co.in", "en-IE": "ie"}


def say(clip: Clip) -> Speech:
    """The clip's words as they are written. UsageError: the service cannot be reached."""
    return speak(clip.text, clip.language)


def speak(text: str, language: str, *, sleep: Callable[[float], None] = time.sleep) -> Speech:
    """The words spoken by the service. Raises UsageError when it cannot be reached."""
    data = _fetched(text, language, sleep)
    try:
        samples, rate = at_good_rate(*decode(data))
    except UsageError as error:
        raise UsageError(f"the online voice sent no audio for '{text}'") from error
    if not np.any(samples):
        raise UsageError(f"the online voice sent silence for '{text}'")
    return Speech(samples, rate, None, "online")


def _fetched(text: str, language: str, sleep: Callable[[float], None]) -> bytes:
    region = REGIONS.get(language, "com")
    last = ""
    for wait in (*RETRY_WAITS_S, None):
        try:
            service = _service.gTTS(text, tld=region, lang=language[:2], timeout=TIMEOUT_S)
            return b"".join(service.stream())
        except (_service.gTTSError, AssertionError, ValueError) as error:
            last = str(error)
        if wait is not None:
            sleep(wait)
    raise UsageError(
        f"the online voice could not be reached for '{text}' ({last}); "
        "build again when you are online, or write `voice: embedded`"
    )
