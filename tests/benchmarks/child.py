"""How long a child and a helper take and what is heard, for a sitting by script (`hand.js`).

Seconds of a whole try with model, helper and mark: 8 to 12 a word under six years, 6 to 9 above, a
phrase 2 more, a sentence 4 more; the same steps of 2 go on downwards. Without a model it is shorter
by the model. Common practice, no source; cf. Edeal & Gildersleeve-Neumann 2011, AJSLP 20:95-110:
9 s a try in a dense session with a therapist, 22 to 30 in a usual one. Clips play in real time, and
what the page itself takes comes on top. The other figures: common practice, no source.
"""

from __future__ import annotations

import zlib
from pathlib import Path
from typing import Any

HAND = Path(__file__).with_name("hand.js").read_text("utf-8")
OF_AGE = {True: (8.0, 12.0), False: (6.0, 9.0)}  # a word, by whether under six
OF_LEVEL = {"isolation": -4.0, "syllable": -2.0, "word": 0.0, "phrase": 2.0, "sentence": 4.0}
READ_S = {"round": (3.0, 6.0), "breath": (8.0, 12.0), "hard": (6.0, 10.0), "easier": (6.0, 10.0)}


def child(age: int, paced: bool, seed: str) -> dict[str, Any]:
    """What `hand.js` is told."""
    return {
        "seed": zlib.crc32(seed.encode()),
        "paced": paced,
        "word": OF_AGE[age < 6],
        "level": OF_LEVEL,
        "before": 0.2,  # share of a try before its model: the child looks, the reminder is said
        "least": 1.5,  # to say, listen and tap, at the quickest
        "more": 2.0,  # the helper says a missed word
        "again": 0.5,  # of missed words said once more
        "marks": {"clear": 75, "almost": 15, "missed": 10},  # per cent
        "read": READ_S,
    }
