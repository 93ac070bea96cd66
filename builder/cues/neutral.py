"""Neutral placement cues for any consonant, from its place, manner and voice; to be read first."""

from __future__ import annotations

from pathlib import Path

from builder.model.clinic import Shape, SoundCues
from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.tables import table

DATA = Path(__file__).parent / "data" / "en_cues.csv"
VOICE = {
    True: "On. Put a hand on the throat and feel it buzz.",
    False: "Off. Put a hand on the throat and feel nothing.",
}


def neutral_cues(sound: Sound, shape: Shape | None = None) -> SoundCues:
    """Cues and reminder for a sound; a vowel with r has those of the consonant /ɹ/."""
    made = sounds()["R"] if sound.kind == "rhotic" else sound
    wanted = (made.place, made.manner, shape or "")
    for row in table(DATA):
        if (row["place"], row["manner"], row["shape"]) == wanted:
            quiet, _, voiced = row["air"].partition("|")
            return SoundCues(
                tongue=row["tongue"],
                lips=row["lips"],
                air=voiced or quiet if made.voiced else quiet,
                voice=VOICE[made.voiced],
                reminder=row["reminder"],
            )
    raise ValueError(f"no cues for a sound that is {' '.join(filter(None, wanted))}")
