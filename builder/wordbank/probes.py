"""Probe words: kept out of practice, for the therapist's own test of what carries over.

They stay apart without any list of them: a keyed hash of sound and word says of every word whether
it is one, always and on every machine the same.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection

from builder.phonetics.inventory import Sound
from builder.phonetics.lexicon.function_words import is_function_word
from builder.wordbank.norms import is_classic

ONE_IN = 6  # of all words


def is_probe(word: str, sound: Sound, trained: Collection[str] = (), lemma: str = "") -> bool:
    """Whether `word` is a probe of `sound` for a client whose programs say the words `trained`.

    The rule: a probe word is never offered (words, pairs, new) nor drafted (new, extend: neither
    practiced nor in a line around a practiced word). What a program of the client says is trained,
    also where the therapist typed it herself: for that client it is no probe, and is drafted like
    any other word. Small words are none: no sentence does without them; nor are the classic words
    of our list, which every practice asks for. A form goes with its word. Where few words fit, none
    of them is kept apart (`suggest.py`).

    trained: in lower case. lemma: the word of which this is a form, "" for none.
    """
    name, base = word.lower(), (lemma or word).lower()
    if name in trained or base in trained or is_function_word(name) or is_classic(base):
        return False
    digest = hashlib.sha256(f"probe {sound.symbol} {base}".encode()).digest()
    return int.from_bytes(digest[:4]) % ONE_IN == 0
