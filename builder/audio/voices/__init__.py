"""The one door to synthesis and recordings. Importing it loads no voice and no samples."""

from __future__ import annotations

from functools import cache
from importlib.metadata import version

# Counted up whenever the same phones would sound otherwise: voice, rate, long form, level, coding.
PARAMETERS = 1
_PACKAGES = {"embedded": "espeakng-loader", "online": "gTTS"}


@cache
def voice_version(voice: str = "embedded") -> str:
    """What a clip of this voice depends on beside its text: part of every content key.

    A take depends on its file, which the key names by its digest, and on our parameters.
    """
    package = _PACKAGES.get(voice)
    engine = f"{package} {version(package)}, " if package else ""
    return f"{engine}parameters {PARAMETERS}"
