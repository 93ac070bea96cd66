"""What sets two sounds apart: place, manner and voice, as the inventory's table has them.

For a vowel, place is the part of the tongue (front, central, back) and manner its height.
"""

from __future__ import annotations

from builder.phonetics.inventory import Sound, sounds

FEATURES = ("place", "manner", "voice")


def features(sound: Sound) -> dict[str, str]:
    """The three features by name: those of /s/ are alveolar, fricative, off."""
    return {
        "place": sound.place,
        "manner": sound.manner,
        "voice": "on" if sound.voiced else "off",
    }


def differing(one: Sound, other: Sound) -> tuple[str, ...]:
    """The names of the features in which two sounds differ, in the order of FEATURES.

    Two vowels may share all three, since the table has neither rounding nor tenseness.
    """
    here, there = features(one), features(other)
    return tuple(name for name in FEATURES if here[name] != there[name])


def voicing_partner(sound: Sound) -> Sound | None:
    """The consonant that differs in voicing alone, /ɡ/ for /k/; None where there is none."""
    if sound.kind != "consonant":
        return None
    return next((s for s in sounds().values() if differing(sound, s) == ("voice",)), None)
