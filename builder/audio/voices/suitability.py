"""What each voice is for each sound and form: a model, a stand-in, or not offered. The answers are
data (voices/data/suitability.csv), proposed by measuring: python -m tests.benchmarks.voices."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal, get_args

from builder.phonetics.inventory import sounds
from builder.phonetics.tables import table

if TYPE_CHECKING:
    from builder.model.clinic import Speaker

Grade = Literal["model", "stand-in", "not offered"]
SoundForm = Literal["natural", "long", "alone"]
Key = tuple[str, str, str, str]
GRADES: tuple[Grade, ...] = get_args(Grade)  # the best first
TABLE = Path(__file__).parent / "data" / "suitability.csv"
ANY = "*"  # any voice, any sound


@dataclass(frozen=True)
class Suitability:
    """What a voice is for a sound in one form, and the reason: a clause with its figure."""

    grade: Grade
    reason: str

    @property
    def offered(self) -> bool:
        """Whether the voice is asked for it at all."""
        return self.grade != "not offered"


def suitability_of(voice: Speaker, symbol: str, form: SoundForm, position: str = "") -> Suitability:
    """The answer for a sound (`SH`) of the inventory.

    form: natural and long forms of words and syllables, or the sound alone. position: initial,
    medial or final, where the held form differs; without it the least of the three answers.
    ValueError for a voice, sound or form that is none.
    """
    rows = _rows()
    for key in ((ANY, symbol, form, ""), (voice, symbol, form, position)):
        if key in rows:
            return rows[key]
    of_sound = [r for key, r in rows.items() if key[:3] == (voice, symbol, form)]
    exact = rows.get((voice, symbol, form, "")) or rows.get((voice, ANY, form, ""))
    if symbol not in sounds() or not (of_sound or exact):
        raise ValueError(f"no voice '{voice}' with a form '{form}' of '{symbol}'")
    if position or exact:
        return exact or of_sound[0]
    return max(of_sound, key=lambda row: GRADES.index(row.grade))


@cache
def _rows() -> dict[Key, Suitability]:
    return {
        (row["voice"], row["symbol"], row["form"], row["position"]): Suitability(
            next(grade for grade in GRADES if grade == row["kind"]), row["why"]
        )
        for row in table(TABLE)
    }
