"""The one door to synthesis and recordings. Importing it loads no voice and no samples."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from importlib.metadata import version
from importlib.util import find_spec
from typing import TYPE_CHECKING, NamedTuple, Protocol, cast

if TYPE_CHECKING:
    from builder.audio.speech import Speech
    from builder.model.clinic import Speaker
    from builder.model.plan import Clip

# Counted up whenever the same phones would sound otherwise: voice, rate, long form, level, coding.
PARAMETERS = 3
SPEAKERS: tuple[Speaker, ...] = ("recorded", "natural", "embedded", "online")
# What a clip of each depends on; recordings and the natural voice tell no positions: the aligner
# finds the target.
PACKAGES = {
    "recorded": ("pocketsphinx",),
    "natural": ("hibari-tts", "onnxruntime", "pocketsphinx"),
    "embedded": ("espeakng-loader",),
    "online": ("gTTS", "pocketsphinx"),
}
NEEDED = {"natural": ("hibari", "onnxruntime")}  # modules without which it cannot speak


class About(NamedTuple):
    """What a voice states of itself. sends: what leaves this computer, and to whom; "" nothing."""

    licence: str
    sends: str = ""


ABOUT = {
    "recorded": About("the clinic’s own recordings"),
    "natural": About("Hibari, voice “heart”, Apache-2.0"),
    "embedded": About("eSpeak NG, GPL-3.0-or-later"),
    "online": About(
        "Google’s text-to-speech service, under its own terms, by gTTS (MIT)",
        "the words that are spoken, to the service, and nothing else",
    ),
}


class Voice(Protocol):
    """A source of speech; the modules of this folder are such.

    PACE: how fast it is told to speak, in its own measure; "" for a recording.
    """

    PACE: str

    def say(self, clip: Clip) -> Speech:
        """The clip's words as one utterance. UsageError when it cannot be had now."""


def voice(name: Speaker) -> Voice:
    """The voice of that name, loaded."""
    return cast(Voice, import_module(f"{__name__}.{name}"))


@cache
def voice_version(name: str = "embedded") -> str:
    """What a clip of this voice depends on beside its text: part of every content key.

    A take depends on its file too, which the key names by its digest.
    """
    packages = (f"{package} {version(package)}" for package in PACKAGES[name])
    return ", ".join((*packages, f"parameters {PARAMETERS}"))


def versions() -> dict[str, str]:
    """The version of every voice that can speak on this computer."""
    here = (n for n in SPEAKERS if all(find_spec(module) for module in NEEDED.get(n, ())))
    return {name: voice_version(name) for name in here}
