"""The man's voice: a larger network than the natural voice's, which that one was taught by, in the
style of a man. It speaks the same signs, and tells no positions either.

The network comes in four packages of data and is put together in memory; its style, 256 numbers for
each length of what is said, lies beside this module (data/man_style.npy, data/man_style.LICENSE).
It works on one thread and has no noise: the same phones give the same samples. It is slow, about a
word a second, and takes 0.7 GB of memory, so it speaks only where it is asked for.
"""

from __future__ import annotations

import json
from functools import cache, lru_cache
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from builder import packages
from builder.audio.speech import Samples, Speech
from builder.audio.voices import MAN_PACKAGES
from builder.audio.voices.float_convolutions import with_float_convolutions
from builder.audio.voices.natural import voice_signs
from builder.phonetics.position import Focus, Words

if TYPE_CHECKING:
    from builder.model.plan import Clip

PART = "part.bin"
SIGNS, SIGNS_FILE = "hibari", "assets/vocab.json"  # the numbers of signs: the same for both
STYLE = Path(__file__).parent / "data" / "man_style.npy"
RATE = 24000
# As slow as the natural voice: the words of tests/benchmarks/voice_survey.py last 0.62 s (median),
# of that voice 0.55 s.
SPEED = 0.8
KEPT = 32  # utterances: a word is asked for in its natural form, then to be held
PACE = f"{SPEED} of a reader's pace"


def say(clip: Clip) -> Speech:
    """The clip's words; where the target lies has to be found."""
    return speak(clip.words, clip.text, focus=clip.focus)


def speak_syllable(phones: tuple[str, ...], focus: tuple[int, int]) -> Speech:
    """One syllable; where its target lies has to be found."""
    return speak((phones,), focus=(0, *focus))


def speak(words: Words, text: str = "", *, focus: Focus | None = None) -> Speech:
    """The words as one utterance at 24 kHz, its target not known; silence around it stays.

    Raises ModuleNotFoundError where a package of it is missing.
    """
    return Speech(_said(voice_signs(words, text, focus)).copy(), RATE, None, "man")


@lru_cache(maxsize=KEPT)
def _said(signs: str) -> Samples:
    """What the network makes of signs."""
    told = [_signs()[sign] for sign in signs]
    style = _styles()[min(len(told), len(_styles())) - 1]
    (made,) = _engine().run(
        None,
        {
            "tokens": np.array([[0, *told, 0]], np.int64),
            "style": style.reshape(1, -1),
            "speed": np.array([SPEED], np.float32),
        },
    )
    return np.asarray(made, np.float64).ravel()


@cache
def _signs() -> dict[str, int]:
    found = json.loads((packages.needed(SIGNS) / SIGNS_FILE).read_text("utf-8"))
    return {str(sign): int(number) for sign, number in found.items()}


@cache
def _styles() -> np.ndarray[Any, np.dtype[np.float32]]:
    """By the number of signs, from one on; the last for all that is longer."""
    return np.asarray(np.load(STYLE), np.float32)


@cache
def _engine() -> Any:
    """The network, read once."""
    onnxruntime = import_module("onnxruntime")
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    options.log_severity_level = 3  # errors alone
    parts = (name.replace("-", "_") for name in MAN_PACKAGES)
    whole = b"".join((packages.needed(part) / PART).read_bytes() for part in parts)
    model = with_float_convolutions(whole)
    return onnxruntime.InferenceSession(model, options, providers=["CPUExecutionProvider"])
