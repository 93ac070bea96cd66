"""A voice on the network, for those who want it: the words are sent, and nothing else.

It reads spellings: the plan asks it only for what is read in one way. It speaks words only, no
sound alone, and tells no positions: they are found in what it said. gTTS writes the requests and
nothing more, for it sends them without verifying whom it talks to.
"""

from __future__ import annotations

import base64
import re
from functools import cache
from typing import TYPE_CHECKING, Any

import gtts
import numpy as np
import requests

from builder.audio.io.decode import decode
from builder.audio.speech import Speech
from builder.audio.voices import ServiceError
from builder.audio.voices.recorded import at_good_rate
from builder.audio.voices.service import Service
from builder.problems import UsageError

if TYPE_CHECKING:
    from builder.model.plan import Clip

_package: Any = gtts  # it carries no types
PACE = "the service's own pace"
LANGUAGE = "en"
AUDIO = re.compile(rb'jQ1olc","\[\\"([^"\\]*)\\"\]')  # base64, as gTTS 2.5.4 reads it


def say(clip: Clip) -> Speech:
    """The clip's words as they are written. ServiceError: the service does not say them now."""
    return speak(clip.text, _service())


@cache
def _service() -> Service:
    """One for the whole run, so that its pauses and its rest hold for every clip."""
    return Service()


def speak(text: str, service: Service) -> Speech:
    """The words spoken by the service. Raises ServiceError, a sentence, when they are not."""
    try:
        data = b"".join(_sound(service.answer(asked)) for asked in requests_for(text))
        speech = _speech(data)
    except _UselessError as problem:
        service.was_of_use(False, str(problem))
        raise ServiceError(_sentence(problem)) from None
    except ServiceError as problem:
        raise ServiceError(_sentence(problem)) from None
    service.was_of_use(True)
    return speech


class _UselessError(ServiceError):
    """It answered, and what came is no speech."""


def _sentence(why: Exception) -> str:
    return f"The online voice did not speak: {why}."


def requests_for(text: str) -> tuple[requests.PreparedRequest, ...]:
    """What gTTS would send, one request for about a hundred characters. ServiceError: nothing is
    left to be said, or the package is no longer as it was."""
    # Its own default host has the American accent, in which readings are checked.
    try:
        asked = tuple(_package.gTTS(text, lang=LANGUAGE)._prepare_requests())
    except AssertionError:
        raise ServiceError("there is nothing to be said in this text") from None
    except (AttributeError, TypeError, ValueError, RuntimeError):
        asked = ()
    if not asked or not all(isinstance(one, requests.PreparedRequest) for one in asked):
        version = getattr(_package, "__version__", "")
        raise ServiceError(f"gTTS {version} writes no requests that this program knows")
    return asked


def _sound(answer: bytes) -> bytes:
    """The MP3 in an answer."""
    parts = AUDIO.findall(answer)
    if not parts:
        raise _UselessError("its answer holds no audio")
    try:
        return b"".join(base64.b64decode(part, validate=True) for part in parts)
    except ValueError:
        raise _UselessError("its answer holds no audio") from None


def _speech(data: bytes) -> Speech:
    try:
        samples, rate = at_good_rate(*decode(data))
    except UsageError:
        raise _UselessError("what it sent is no audio") from None
    if not np.any(samples):
        raise _UselessError("it sent silence")
    return Speech(samples, rate, None, "online")
