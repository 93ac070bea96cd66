"""The engine keeps state between words; none of it may reach a clip."""

from __future__ import annotations

import hashlib
import shutil
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

from builder import espeak
from builder.problems import UsageError

KEY, COW = "[[k|'i:]].", "[[k|'aU]]."
OTHERS = ["[[f|'I|S]].", "[[m|'u:|n]].", "[[b|'V|s]]?", "[[S|'E|l]]."]
PRINT = """
import hashlib
from builder.espeak import speak
print(hashlib.sha256(speak("[[k|'aU]].", 120).pcm).hexdigest())
"""


def spoken(typed: str) -> str:
    return hashlib.sha256(espeak.speak(typed, 120).pcm).hexdigest()


def test_a_word_is_the_same_first_and_last_and_in_another_process() -> None:
    first = spoken(COW)
    for other in OTHERS * 3:
        espeak.speak(other, 120)
    elsewhere = subprocess.run(
        [sys.executable, "-c", PRINT], capture_output=True, text=True, check=True
    )
    assert first == spoken(COW) == elsewhere.stdout.strip()


def test_a_word_is_the_same_where_a_library_cannot_be_unloaded(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    fresh = spoken(COW)
    monkeypatch.setattr(espeak, "_unload", lambda library: None)
    assert [spoken(COW), spoken(KEY), spoken(COW), spoken(COW)][-1] == fresh
    assert next(espeak._copies) > 0  # copies were loaded instead


def test_threads_wait_for_each_other() -> None:
    alone = [spoken(typed) for typed in OTHERS]
    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(spoken, OTHERS * 4)) == alone * 4


def test_phonemes_come_in_order_with_their_places() -> None:
    said = espeak.speak(COW, 120)
    signs = [sign for _, sign in said.events]
    places = [at for at, _ in said.events]
    assert signs[:2] == ["k", "aU"]
    assert places == sorted(places)
    assert 0 < places[0] < places[1] < len(said.pcm) // 2
    assert said.rate == 22050


def test_files_that_were_tidied_away_are_made_again() -> None:
    before = spoken(KEY)
    shutil.rmtree(espeak.data_folder().parent)
    assert spoken(KEY) == before


def test_a_missing_voice_is_said_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(espeak, "VOICE", "xx-none")
    with pytest.raises(UsageError, match="cannot read its files"):
        espeak.speak(KEY, 120)


def test_the_next_word_is_spoken_after_a_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    before = spoken(KEY)
    with monkeypatch.context() as patch:
        patch.setattr(espeak, "VOICE", "xx-none")
        with pytest.raises(UsageError):
            espeak.speak(KEY, 120)
    assert spoken(KEY) == before
