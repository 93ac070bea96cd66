"""How the embedded voice reads a word that it is given as text: rules, and a list of exceptions.

Only the transcription is asked for, nothing is spoken. The library keeps global state, so a copy of
it, loaded under a name of its own, serves this module alone; one question at a time.
"""

from __future__ import annotations

import ctypes
import shutil
import tempfile
import threading
from collections.abc import Iterable
from functools import cache
from multiprocessing import util
from pathlib import Path
from typing import Any

from builder.phonetics.lexicon.sources import sources

ROLE = "letter-to-sound rules"
# What the engine reads for any voice; the files of the voice itself are data (data/*_sources.csv).
# Looking for it among all voices takes 3 ms.
FILES = ("phontab", "phonindex", "phondata", "intonations")
SYNCHRONOUS = 2
ERROR_INSTEAD_OF_EXIT = 0x8000
UTF8 = 1
IPA_DIVIDED = 0x02 | ord("_") << 8  # IPA, the signs of each phoneme divided by "_"

_one_at_a_time = threading.Lock()


def transcribe(words: Iterable[str]) -> list[tuple[str, ...]]:
    """For every word its phonemes in IPA, stress marks before their vowel; () where it has none.

    Raises OSError when the library or its files cannot be read.
    """
    with _one_at_a_time:
        library = _library()
        return [_phonemes(library, word) for word in words]


def _phonemes(library: Any, word: str) -> tuple[str, ...]:
    text = ctypes.c_char_p(word.encode())
    signs: list[str] = []
    while text.value:  # moved on clause by clause, NULL at the end
        said = library.espeak_TextToPhonemes(ctypes.byref(text), UTF8, IPA_DIVIDED)
        signs += said.decode("utf-8", "replace").replace(" ", "_").split("_")
    return tuple(sign for sign in signs if sign)


@cache
def _library() -> Any:
    import espeakng_loader

    package: Any = espeakng_loader  # it carries no types
    home = Path(tempfile.mkdtemp(prefix="rules-"))
    util.Finalize(None, shutil.rmtree, args=(home, True), exitpriority=1)
    original = Path(package.get_library_path())
    copy = shutil.copyfile(original, home / original.name)
    source = sources()[ROLE]
    for name in (*FILES, *source.files):
        file = home / "espeak-ng-data" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(Path(package.get_data_path()) / name, file)
    (home / "espeak-ng-data" / "voices").mkdir()
    library = ctypes.CDLL(str(copy))
    library.espeak_TextToPhonemes.restype = ctypes.c_char_p
    rate = library.espeak_Initialize(SYNCHRONOUS, 0, str(home).encode(), ERROR_INSTEAD_OF_EXIT)
    if rate <= 0 or library.espeak_SetVoiceByName(source.voice.encode()) != 0:
        raise OSError(f"the embedded voice cannot read its files in {home}")
    return library
