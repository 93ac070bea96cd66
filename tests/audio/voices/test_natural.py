"""The natural voice: told phones, it says them, slowly, falling, the same every time."""

from __future__ import annotations

import json
import subprocess
import sys

import numpy as np
import pytest

from builder.audio.speech import Samples
from builder.audio.voices import natural
from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon import tagged_dictionary
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.lexicon.sources import folder

KEY, MY = ("K", "IY1"), ("M", "AY1")


def told(word: str) -> str:
    return natural.voice_signs((pronunciations(word)[0],), word)


@pytest.mark.parametrize(
    ("word", "signs"),
    [
        ("key", "kˈi."),
        ("cow", "kˈW."),
        ("shell", "ʃˈɛl."),
        ("cheese", "ʧˈiz."),
        ("giraffe", "ʤəɹˈæf."),
        ("measure", "mˈɛʒəɹ."),
        ("feather", "fˈɛðəɹ."),
        ("thumb", "θˈʌm."),
        ("yellow", "jˈɛlO."),
        ("wing", "wˈɪŋ."),
        ("bird", "bˈɜɹd."),
        ("banana", "bənˈænə."),
        pytest.param("water", "wˈɔTəɹ.", id="a flap between vowels"),
        pytest.param("party", "pˈɑɹTi.", id="a flap after r"),
        pytest.param("kitten", "kˈɪtən.", id="no flap before a syllabic n"),
        pytest.param("attack", "ətˈæk.", id="no flap before stress"),
        pytest.param("bottle", "bˈɑTᵊl.", id="a syllabic l"),
        pytest.param("balloon", "bəlˈun.", id="no syllabic l before a vowel"),
        pytest.param("car", "kˈɑɹ.", id="vowel and r"),
        pytest.param("deer", "dˈɪɹ.", id="its vowel before r"),
        pytest.param("fire", "fˈIəɹ.", id="r after a diphthong"),
        pytest.param("rerun", "ɹˈiɹˈʌn.", id="an r that begins a syllable leaves the vowel alone"),
    ],
)
def test_phones_are_told_by_its_own_signs(word: str, signs: str) -> None:
    assert told(word) == signs


def test_small_words_are_weak_inside_a_phrase() -> None:
    assert natural.voice_signs((MY, KEY), "my key", (1, 0, 1)) == "mI kˈi."
    assert natural.voice_signs((MY, KEY), "my key", (0, 0, 1)) == "mˈI kˈi."
    assert natural.voice_signs((("AH0",), KEY), "a key") == "ɐ kˈi."
    assert natural.voice_signs((KEY, MY), "key my") == "kˈi mˈI."


def test_weak_articles_are_said_as_everybody_says_them() -> None:
    a, the, ape = ("AH0",), ("DH", "AH0"), ("EY1", "P")  # as builder.speech says them
    assert natural.voice_signs((a, KEY), "a key") == "ɐ kˈi."
    assert natural.voice_signs((the, KEY), "the key") == "ðə kˈi."
    assert natural.voice_signs((("DH", "IY0"), ape), "the ape") == "ði ˈAp."
    assert natural.voice_signs((("DH", "IY1"), KEY), "the key", (0, 0, 1)) == "ðˈi kˈi."


def test_marks_of_a_sentence_are_kept() -> None:
    assert natural.voice_signs((KEY, KEY), "Key, key!") == "kˈi, kˈi."
    assert natural.voice_signs((KEY, KEY), "key key?").endswith("?")


def test_every_sound_has_a_sign_that_the_network_knows() -> None:
    known = json.loads((folder("tagged dictionary") / "assets/vocab.json").read_text("utf-8"))
    for sound in sounds().values():
        for phones in sound.phones:
            said = natural.voice_signs((tuple(p + "1" if p[0] in "AEIOU" else p for p in phones),))
            assert set(said) <= known.keys()


def test_its_lexicon_and_our_table_agree() -> None:
    """Words on which CMUdict and the package's own lexicon say the same are told the same."""
    words = "bag cheese dog fish goose jam lake map nose pig ring shoe thing van watch yes zip"
    for word in words.split():
        (_, ipa), *_ = tagged_dictionary.readings(word)
        assert told(word) == ipa + "."


def test_the_same_phones_give_the_same_samples() -> None:
    first = natural.speak((KEY,), "key").samples
    natural.speak((("S", "UW1", "P"),), "soup")
    assert np.array_equal(natural.speak((KEY,), "key").samples, first)
    assert not np.array_equal(natural.speak((KEY,), "key", seed=1).samples, first)


def sounding(samples: Samples) -> float:
    """Seconds between the first and last 5 ms within 40 dB of the loudest."""
    power = (samples[: len(samples) // 120 * 120].reshape(-1, 120) ** 2).mean(axis=1)
    loud = np.flatnonzero(power > power.max() * 1e-4)
    return float(loud[-1] - loud[0] + 1) * 0.005


@pytest.mark.parametrize("word", ["cow", "key", "fish", "bus"])
def test_words_are_slow_and_whole(word: str) -> None:
    speech = natural.speak((pronunciations(word)[0],), word)
    assert (speech.rate, speech.target, speech.voice) == (24000, None, "natural")
    assert 0.38 < sounding(speech.samples) < 0.8
    assert 0.05 < np.abs(speech.samples).max() < 1.0
    assert np.abs(speech.samples[:480]).max() < 0.01  # silence ahead, to be cut off later


def pitch(samples: Samples) -> float:
    """The voice's frequency in Hz in 40 ms: the first peak of the autocorrelation."""
    centred = samples - samples.mean()
    found = np.correlate(centred, centred, "full")[len(centred) - 1 :]
    return 24000 / (80 + int(found[80:240].argmax()))


def test_words_fall_and_questions_do_not() -> None:
    falls = []
    for text in ("key.", "key?"):
        samples = natural.speak((KEY,), text).samples
        power = np.convolve(samples**2, np.ones(960), "same")
        loud = np.flatnonzero(power > power.max() / 10)
        first, last = loud[0] + 1200, loud[-1] - 480
        falls.append(pitch(samples[first : first + 960]) - pitch(samples[last - 960 : last]))
    assert falls[0] > 20
    assert falls[1] < falls[0]


def test_looking_whether_it_is_there_loads_nothing() -> None:
    code = (
        "import sys; from builder.audio.voices import natural; there = natural.available();"
        "assert not {'onnxruntime', 'scipy', 'hibari'} & set(sys.modules); print(there)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "True"


def test_without_the_package_it_is_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(natural, "PACKAGE", "no_such_package")
    assert not natural.available()
