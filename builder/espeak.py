"""eSpeak NG's library through its C interface. Speaking: phoneme mnemonics in, samples and phoneme
events out. Transcribing: a word in, its phonemes in IPA out.

The library keeps state between words (pitch flutter, phase), so every utterance is spoken by a
library loaded afresh: loading and starting cost 0.4 ms. Where a system keeps an unloaded library
in memory, a copy under a new name is loaded instead. Transcribing has no such state: one copy,
loaded once, does it all. One call at a time.
"""

from __future__ import annotations

import _ctypes
import ctypes
import itertools
import shutil
import sys
import tempfile
import threading
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from multiprocessing import util
from pathlib import Path
from typing import Any

from builder.problems import UsageError

VOICE = "en-us"
ANY_VOICE_FILES = ("phontab", "phonindex", "phondata", "intonations")
# The few files that this voice reads; looking for it among all voices takes 3 ms each time.
VOICE_FILES = (*ANY_VOICE_FILES, "en_dict", "lang/gmw/en-US")
# Values of the library's speak_lib.h.
SYNCHRONOUS = 2
PHONEME_EVENTS, ERROR_INSTEAD_OF_EXIT = 0x1, 0x8000
UTF8, PHONEME_INPUT = 0x1, 0x100
IPA_DIVIDED = 0x02 | ord("_") << 8  # IPA, the signs of each phoneme divided by "_"
RATE_PARAMETER = 1
PHONEME = 7

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


def speak(typed: str, words_per_minute: int, variant: str = "") -> Utterance:
    """Speak mnemonics (`[[k|'i:]].`). Raises UsageError when the engine's files are not there.

    variant: another speaker with the same phones (`f3`), by the engine's name.
    """
    chunks: list[bytes] = []
    events: list[tuple[int, str]] = []

    def receive(wave: Any, count: int, event: Any) -> int:
        if count > 0:
            chunks.append(ctypes.string_at(wave, 2 * count))
        events.extend(_phonemes_of(event))
        return 0

    callback = _Callback(receive)  # must outlive the call
    files = (*VOICE_FILES, f"voices/!v/{variant}") if variant else VOICE_FILES
    voice = f"{VOICE}+{variant}" if variant else VOICE
    with _one_at_a_time, _fresh_library() as library:
        try:
            rate = _start(library, voice, data_folder(files), PHONEME_EVENTS)
        except OSError as error:
            raise UsageError(str(error)) from error
        library.espeak_SetParameter(RATE_PARAMETER, words_per_minute, 0)
        library.espeak_SetSynthCallback(callback)
        text = typed.encode()
        library.espeak_Synth(text, len(text) + 1, 0, 1, 0, UTF8 | PHONEME_INPUT, None, None)
        library.espeak_Terminate()
    return Utterance(b"".join(chunks), rate, tuple(events))


def transcribe(
    words: Iterable[str], voice: str = VOICE, files: tuple[str, ...] = VOICE_FILES
) -> list[tuple[str, ...]]:
    """For every word its phonemes in IPA, stress marks before their vowel; () where it has none.

    voice: a language, by the engine's name; files: what it reads beside ANY_VOICE_FILES. Raises
    OSError when the library or its files cannot be read.
    """
    with _one_at_a_time:
        library = _transcriber(voice, (*ANY_VOICE_FILES, *files))
        return [_transcribed(library, word) for word in words]


def _transcribed(library: ctypes.CDLL, word: str) -> tuple[str, ...]:
    text = ctypes.c_char_p(word.encode())
    signs: list[str] = []
    while text.value:  # moved on clause by clause, NULL at the end
        said = library.espeak_TextToPhonemes(ctypes.byref(text), UTF8, IPA_DIVIDED)
        signs += said.decode("utf-8", "replace").replace(" ", "_").split("_")
    return tuple(sign for sign in signs if sign)


def _phonemes_of(event: Any) -> Iterator[tuple[int, str]]:
    for at in itertools.count():
        if event[at].type == 0:
            return
        if event[at].type == PHONEME:
            yield event[at].sample, event[at].id.string.decode("utf-8", "replace").lstrip("',%=")


def _start(library: ctypes.CDLL, voice: str, data: Path, events: int = 0) -> int:
    """Start the library with a voice; its rate in Hz. OSError when it cannot read its files."""
    home, options = str(data.parent).encode(), events | ERROR_INSTEAD_OF_EXIT
    rate = int(library.espeak_Initialize(SYNCHRONOUS, 0, home, options))
    if rate <= 0 or library.espeak_SetVoiceByName(voice.encode()) != 0:
        raise OSError(f"the embedded voice cannot read its files in {data}")
    return rate


@contextmanager
def _fresh_library() -> Iterator[ctypes.CDLL]:
    library = ctypes.CDLL(str(_original()))
    if library.espeak_ng_GetSampleRate() != 0:  # 0 until it is started for the first time
        library = ctypes.CDLL(str(_copy_of_library()))
    try:
        yield library
    finally:
        _unload(library)


@cache
def _transcriber(voice: str, files: tuple[str, ...]) -> ctypes.CDLL:
    library = ctypes.CDLL(str(_copy_of_library()))
    library.espeak_TextToPhonemes.restype = ctypes.c_char_p
    _start(library, voice, data_folder(files))
    return library


def _copy_of_library() -> Path:
    copy = data_folder().parent / f"{next(_copies)}-{_original().name}"
    return Path(shutil.copyfile(_original(), copy))


def _unload(library: ctypes.CDLL) -> None:
    if sys.platform == "win32":
        _ctypes.FreeLibrary(library._handle)
    else:
        _ctypes.dlclose(library._handle)


def data_folder(files: Iterable[str] = VOICE_FILES) -> Path:
    """A short folder with the named data files; made again when the system tidied it away."""
    folder = _home() / "espeak-ng-data"
    for name in files:
        file = folder / name
        if not file.is_file():
            file.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(Path(_package().get_data_path()) / name, file)
    (folder / "voices").mkdir(exist_ok=True)
    return folder


@cache
def _home() -> Path:
    """Goes away with the process, be it a worker."""
    home = Path(tempfile.mkdtemp(prefix="espeak-"))
    util.Finalize(None, shutil.rmtree, args=(home, True), exitpriority=1)
    return home


def _original() -> Path:
    return Path(_package().get_library_path())


def _package() -> Any:
    import espeakng_loader

    return espeakng_loader  # it carries no types
