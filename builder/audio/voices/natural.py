"""The natural voice: a small network in a package speaks the phones that were checked. It tells no
positions: where the target lies has to be found in what it said.

Its alphabet is data (audio/data/natural_signs.csv). The network is read once a process, works on
one thread and keeps nothing between utterances: the same phones give the same samples.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from builder import packages
from builder.audio.speech import Samples, Speech
from builder.audio.voices.mnemonics import is_weak, vowel_at
from builder.phonetics import tables
from builder.phonetics.inventory import bare, is_vowel
from builder.phonetics.position import Focus, Words

if TYPE_CHECKING:
    from builder.model.plan import Clip

PACKAGE, MODEL = "hibari", "assets/hibari.onnx"
TABLE = Path(__file__).parent / "data" / "natural_signs.csv"
RATE = 24000
# Slow, as one speaks to a young child; 1 is the pace of a reader.
SPEED = 0.8
PACE = f"{SPEED} of a reader's pace"
STRESS = {"0": "", "1": "ˈ", "2": "ˌ"}
FLAP = "T"  # the t of `water`
ARTICLE = ("AH0",)
ARTICLE_SIGN = "ɐ"  # `a`; ə is never a word by itself
PAUSES = ",;:"


def available() -> bool:
    """Whether the package, its model and what runs it are there; loads none of them."""
    folder = packages.place(PACKAGE)
    return folder is not None and (folder / MODEL).is_file() and bool(find_spec("onnxruntime"))


def say(clip: Clip) -> Speech:
    """The clip's words; where the target lies has to be found."""
    return speak(clip.words, clip.text, focus=clip.focus)


def speak_syllable(phones: tuple[str, ...], focus: tuple[int, int]) -> Speech:
    """One syllable; where its target lies has to be found."""
    return speak((phones,), focus=(0, *focus))


def speak(words: Words, text: str = "", *, focus: Focus | None = None, seed: int = 0) -> Speech:
    """The words as one utterance at 24 kHz, its target not known; silence around it stays.

    Small words of a phrase lose their stress unless they hold the target or end it. seed: of the
    voice's breath noise. Raises FileNotFoundError when the package is not there.
    """
    made = _engine().from_phonemes(voice_signs(words, text, focus), speed=SPEED, seed=seed)
    samples: Samples = np.asarray(made, np.float64)
    return Speech(samples, RATE, None, "natural")


def voice_signs(words: Words, text: str = "", focus: Focus | None = None) -> str:
    """What the voice is told: signs with stress marks, a mark at the end, a comma where one is
    written. A word whose written form is not known keeps its stress."""
    written = text.split() if len(text.split()) == len(words) else [""] * len(words)
    loud = {focus[0] if focus else -1, len(words) - 1}
    said = (
        _word(phones, weak=at not in loud and is_weak(written[at])) + _pause(written[at])
        for at, phones in enumerate(words)
    )
    return " ".join(said).rstrip(PAUSES) + ("?" if text.rstrip().endswith("?") else ".")


def _pause(written: str) -> str:
    return written[-1] if written[-1:] and written[-1] in PAUSES else ""


def _word(phones: tuple[str, ...], *, weak: bool) -> str:
    if phones == ARTICLE:
        return ARTICLE_SIGN
    found, at = "", 0
    while at < len(phones):
        sign, taken = _sign(phones, at)
        stress = STRESS[phones[at][-1]] if is_vowel(phones[at]) and not weak else ""
        found, at = found + stress + sign, at + taken
    return found


def _sign(phones: tuple[str, ...], at: int) -> tuple[str, int]:
    here, pair = phones[at], phones[at : at + 2]
    if len(pair) == 2 and not vowel_at(phones, at + 2):
        for first in (here, bare(here)):
            if sign := sign_table().get(f"{first} {pair[1]}"):
                return sign, 2
    if here == "T" and _is_flap(phones, at):
        return FLAP, 1
    return sign_table().get(here) or sign_table()[bare(here)], 1


def _is_flap(phones: tuple[str, ...], at: int) -> bool:
    """A t after a vowel or r and before an unstressed vowel, but not before ən (`kitten`)."""
    after = phones[at + 1 : at + 3]
    before = phones[at - 1] if at else ""
    open_left = before == "R" or (bool(before) and is_vowel(before))
    unstressed = bool(after) and is_vowel(after[0]) and after[0].endswith("0")
    return open_left and unstressed and after != ("AH0", "N")


@cache
def sign_table() -> dict[str, str]:
    """The sign of every phone, and of two phones together ("AH0 L")."""
    return {row["phones"]: row["sign"] for row in tables.table(TABLE)}


@cache
def _engine() -> Any:
    """The network, read once; its own look-up of words and its downloads are never asked."""
    folder = packages.place(PACKAGE)
    if folder is None:
        raise FileNotFoundError(2, "the woman's voice is not installed", PACKAGE)
    return import_module(PACKAGE).Hibari(model=str(folder / MODEL), threads=1)
