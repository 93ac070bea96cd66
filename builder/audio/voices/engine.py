"""espeak-ng's library through its C interface: mnemonics in, samples and phoneme events out.

The library keeps state between words (pitch flutter, phase), so every utterance is spoken by a
library loaded afresh: loading and starting cost 0.4 ms. Where a system keeps an unloaded library
in memory, a copy under a new name is loaded instead. One utterance at a time.
"""

from __future__ import annotations

import _ctypes
import ctypes
import itertools
import shutil
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from multiprocessing import util
from pathlib import Path
from typing import Any

import espeakng_loader

from builder.problems import UsageError

VOICE = b"en-us"
# The few files that this voice reads; looking for it among all voices takes 3 ms each time.
FILES = ("phontab", "phonindex", "phondata", "intonations", "en_dict", "lang/gmw/en-US")
SYNCHRONOUS = 2
EVENTS_OR_ERROR = 0x1 | 0x8000  # phoneme events by mnemonic; an error instead of exit()
UTF8_PHONEMES = 0x1 | 0x100
RATE_PARAMETER = 1
PHONEME = 7

_package: Any = espeakng_loader  # it carries no types
_one_at_a_time = threading.Lock()
_copies = itertools.count()


class _Id(ctypes.Union):
    _fields_ = [("number", ctypes.c_int), ("name", ctypes.c_char_p), ("string", ctypes.c_char * 8)]


class _Event(ctypes.Structure):
    _fields_ = [
        ("type", ctypes.c_int),
        ("unique_identifier", ctypes.c_uint),
        ("text_position", ctypes.c_int),
        ("length", ctypes.c_int),
        ("audio_position", ctypes.c_int),
        ("sample", ctypes.c_int),
        ("user_data", ctypes.c_void_p),
        ("id", _Id),
    ]


_Callback = ctypes.CFUNCTYPE(
    ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.POINTER(_Event)
)


@dataclass(frozen=True)
class Utterance:
    """16-bit mono samples as bytes, their rate, and (first sample, mnemonic) of each phoneme.

    Mnemonics come without stress marks; pauses (`_`, `_:`) are among them.
    """

    pcm: bytes
    rate: int
    events: tuple[tuple[int, str], ...]


def utter(typed: str, words_per_minute: int, variant: str = "") -> Utterance:
    """Speak mnemonics (`[[k|'i:]].`). Raises UsageError when the engine's files are not there.

    variant: another speaker with the same phones (`f3`), by the engine's name.
    """
    chunks: list[bytes] = []
    events: list[tuple[int, str]] = []

    def receive(wave: Any, count: int, event: Any) -> int:
        if count > 0:
            chunks.append(ctypes.string_at(wave, 2 * count))
        events.extend(_phonemes(event))
        return 0

    callback = _Callback(receive)  # must outlive the call
    with _one_at_a_time, _fresh_library() as library:
        rate = _start(library, words_per_minute, variant)
        library.espeak_SetSynthCallback(callback)
        text = typed.encode()
        library.espeak_Synth(text, len(text) + 1, 0, 1, 0, UTF8_PHONEMES, None, None)
        library.espeak_Terminate()
    return Utterance(b"".join(chunks), rate, tuple(events))


def _phonemes(event: Any) -> Iterator[tuple[int, str]]:
    for at in itertools.count():
        if event[at].type == 0:
            return
        if event[at].type == PHONEME:
            yield event[at].sample, event[at].id.string.decode("utf-8", "replace").lstrip("',%=")


def _start(library: ctypes.CDLL, words_per_minute: int, variant: str) -> int:
    home = str(data_folder().parent).encode()
    voice = VOICE + f"+{_variant(variant)}".encode() if variant else VOICE
    rate = int(library.espeak_Initialize(SYNCHRONOUS, 0, home, EVENTS_OR_ERROR))
    if rate <= 0 or library.espeak_SetVoiceByName(voice) != 0:
        raise UsageError(f"the embedded voice cannot read its files in {data_folder()}")
    library.espeak_SetParameter(RATE_PARAMETER, words_per_minute, 0)
    return rate


@contextmanager
def _fresh_library() -> Iterator[ctypes.CDLL]:
    library = ctypes.CDLL(_package.get_library_path())
    if library.espeak_ng_GetSampleRate() != 0:  # 0 until it is started for the first time
        library = ctypes.CDLL(str(_copy_of_library()))
    try:
        yield library
    finally:
        _unload(library)


def _copy_of_library() -> Path:
    original = Path(_package.get_library_path())
    copy = data_folder().parent / f"{next(_copies)}-{original.name}"
    shutil.copyfile(original, copy)
    return copy


def _unload(library: ctypes.CDLL) -> None:
    if sys.platform == "win32":
        _ctypes.FreeLibrary(library._handle)
    else:
        _ctypes.dlclose(library._handle)


def _variant(name: str) -> str:
    """The variant's name, its file put where the engine looks for it."""
    file = data_folder() / "voices/!v" / name
    if not file.is_file():
        file.parent.mkdir(exist_ok=True)
        shutil.copyfile(Path(_package.get_data_path()) / "voices/!v" / name, file)
    return name


def data_folder() -> Path:
    """A short folder with the files of one voice; made again when the system tidied it away."""
    if not (_data_folder() / FILES[-1]).is_file():
        _data_folder.cache_clear()
    return _data_folder()


@cache
def _data_folder() -> Path:
    """Goes away with the process, be it a worker."""
    home = Path(tempfile.mkdtemp(prefix="voice-"))
    util.Finalize(None, shutil.rmtree, args=(home, True), exitpriority=1)
    folder = home / "espeak-ng-data"
    (folder / "voices").mkdir(parents=True)
    for name in FILES:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(Path(_package.get_data_path()) / name, folder / name)
    return folder
