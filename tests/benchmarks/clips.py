"""How many clips a second one core makes, natural and held, measuring and coding included.

    python -m tests.benchmarks.clips

Bounds: at least 80 natural and 40 held clips a second.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path

from builder.clips import _make
from builder.phonetics.lexicon import pronunciations
from builder.plan import Clip
from builder.store import key_of

WORDS = [
    "bus", "bush", "cheese", "coffee", "fish", "fishing", "goose", "house", "leaf", "messy", "moon",
    "nose", "shell", "shoe", "yes",
]  # fmt: skip
HELD = {"S": "bus goose house messy yes", "SH": "bush fish fishing shell shoe", "M": "moon messy"}
ROUNDS = 5


def clip(word: str, symbol: str, form: str) -> Clip:
    """A clip as the plan would hold it, its target the first `symbol` ("" for none)."""
    phones = pronunciations(word)[0]
    at = phones.index(symbol) if symbol else 0
    key = key_of(word=word, symbol=symbol, form=form)
    focus = (0, at, at + 1)
    return Clip(
        key, "", word, (phones,), focus, "long" if form == "long" else "natural", False, 1.5,
        "embedded",
    )  # fmt: skip


def rate(clips: list[Clip]) -> float:
    """Clips a second: the median over rounds, each into an empty store."""
    found = []
    for _ in range(ROUNDS):
        with tempfile.TemporaryDirectory() as folder:
            start = time.process_time()
            for each in clips:
                _make(each, folder=Path(folder))
            found.append(len(clips) / (time.process_time() - start))
    return statistics.median(found)


def main() -> None:
    """Print both rates beside their bounds."""
    natural = [clip(word, "", "natural") for word in WORDS]
    held = [clip(word, symbol, "long") for symbol, words in HELD.items() for word in words.split()]
    rate(natural[:1])  # imports and the data folder are paid once
    for what, clips, bound in (("natural", natural, 80), ("held", held, 40)):
        found = rate(clips)
        verdict = "holds" if found >= bound else "MISSED"
        print(f"| {what} clips, one core | {found:.0f} a second | ≥ {bound} | {verdict} |")


if __name__ == "__main__":
    main()
