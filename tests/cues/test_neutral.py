from __future__ import annotations

import pytest

from builder.cues.by_sound import shapes_of
from builder.cues.neutral import neutral_cues
from builder.phonetics.inventory import Sound, sounds
from builder.text.identifiers import identifiers
from builder.text.readability import counts, grade

TAUGHT = [sound for sound in sounds().values() if sound.kind != "vowel"]


@pytest.mark.parametrize("sound", TAUGHT, ids=lambda sound: sound.symbol)
def test_every_consonant_has_cues_that_a_family_can_read(sound: Sound) -> None:
    for shape in (None, *shapes_of(sound)):
        cues = neutral_cues(sound, shape)
        text = " ".join([cues.tongue, cues.lips, cues.air, cues.voice])
        assert all((cues.tongue, cues.air, cues.voice, cues.reminder))
        assert 1 <= len(cues.reminder.split()) <= 4
        # Grade 6: American Medical Association, cited from published readability studies.
        assert grade(counts(f"{text}\n{cues.reminder}")) <= 6
        assert not list(identifiers(text, prose=True))


# The chart of the International Phonetic Alphabet (2020), from memory: voice, and what is closed.
@pytest.mark.parametrize(
    ("symbol", "voice", "words"),
    [
        ("P", "Off", {"lips": "close", "air": "puff"}),
        ("B", "On", {"lips": "close", "air": "without a strong puff"}),
        ("M", "On", {"lips": "closed", "air": "nose"}),
        ("F", "Off", {"lips": "lower lip"}),
        ("DH", "On", {"tongue": "between the teeth"}),
        ("T", "Off", {"tongue": "ridge", "air": "puff"}),
        ("Z", "On", {"air": "thin"}),
        ("SH", "Off", {"lips": "round", "air": "wide"}),
        ("CH", "Off", {"air": "stops, then"}),
        ("L", "On", {"air": "sides"}),
        ("R", "On", {"tongue": "sides"}),
        ("ER", "On", {"tongue": "sides"}),
        ("Y", "On", {"tongue": "middle"}),
        ("K", "Off", {"tongue": "back", "air": "puff"}),
        ("NG", "On", {"tongue": "back", "air": "nose"}),
        ("W", "On", {"lips": "round"}),
        ("HH", "Off", {"air": "softly"}),
    ],
)
def test_place_manner_and_voice(symbol: str, voice: str, words: dict[str, str]) -> None:
    cues = neutral_cues(sounds()[symbol])
    assert cues.voice.split(".")[0] == voice
    for part, word in words.items():
        assert word in getattr(cues, part)


def test_shapes_differ() -> None:
    for symbol in ("S", "Z", "R", "AOR"):
        ways = [neutral_cues(sounds()[symbol], s) for s in (None, *shapes_of(sounds()[symbol]))]
        assert len({way.tongue for way in ways}) == 3
