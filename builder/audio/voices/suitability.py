"""What each voice is for each sound and form: a model, a stand-in, or not offered. The answers are
data (data/offers.csv), proposed by measuring: python -m tests.benchmarks.voices."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal, get_args

from builder.phonetics.inventory import sounds
from builder.phonetics.tables import table

if TYPE_CHECKING:
    from builder.model.clinic import Speaker

Kind = Literal["model", "stand-in", "not offered"]
Said = Literal["natural", "long", "alone"]
Key = tuple[str, str, str, str]
KINDS: tuple[Kind, ...] = get_args(Kind)  # the best first
TABLE = Path(__file__).parent / "data" / "suitability.csv"
ANY = "*"  # any voice, any sound


@dataclass(frozen=True)
class Offer:
    """What a voice is for a sound in one form, and why: a clause with the figure behind it."""

    kind: Kind
    why: str


def offer(voice: Speaker, symbol: str, said: Said, position: str = "") -> Offer:
    """The answer for a sound (`SH`) of the inventory.

    said: natural and long forms of words and syllables, or the sound alone. position: initial,
    medial or final, where the held form differs; without it the least of the three answers.
    ValueError for a voice, sound or form that is none.
    """
    rows = _rows()
    for key in ((ANY, symbol, said, ""), (voice, symbol, said, position)):
        if key in rows:
            return rows[key]
    near = [r for key, r in rows.items() if key[:3] == (voice, symbol, said)]
    exact = rows.get((voice, symbol, said, "")) or rows.get((voice, ANY, said, ""))
    if symbol not in sounds() or not (near or exact):
        raise ValueError(f"no voice '{voice}' with a form '{said}' of '{symbol}'")
    if position or exact:
        return exact or near[0]
    return max(near, key=lambda row: KINDS.index(row.kind))


@cache
def _rows() -> dict[Key, Offer]:
    return {
        (row["voice"], row["symbol"], row["form"], row["position"]): Offer(
            next(kind for kind in KINDS if kind == row["kind"]), row["why"]
        )
        for row in table(TABLE)
    }
