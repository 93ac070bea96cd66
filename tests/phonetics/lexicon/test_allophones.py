from __future__ import annotations

import pytest

from builder.phonetics.lexicon.allophones import phones_of, signs
from builder.phonetics.lexicon.readings import LETTER_TO_SOUND, TAGGED

# The tagged dictionary writes each diphthong as one capital, and has one sign for each affricate
# (its own documentation); the letter-to-sound rules write IPA with length.
ONLY_TAGGED = {"A": ("EY",), "I": ("AY",), "O": ("OW",), "W": ("AW",), "Y": ("OY",), "ʧ": ("CH",)}
ONLY_RULES = {"eɪ": ("EY",), "iː": ("IY",), "ɜː": ("ER",), "tʃ": ("CH",), "n̩": ("AH", "N")}


@pytest.mark.parametrize(
    ("source", "own", "others"),
    [(TAGGED, ONLY_TAGGED, ONLY_RULES), (LETTER_TO_SOUND, ONLY_RULES, ONLY_TAGGED)],
)
def test_each_source_has_an_alphabet_of_its_own(
    source: str, own: dict[str, tuple[str, ...]], others: dict[str, tuple[str, ...]]
) -> None:
    known = signs(source)
    assert {sign: known.get(sign) for sign in own} == own
    assert others.keys() & known.keys() == set()


@pytest.mark.parametrize(
    ("word", "ipa", "phones"),
    [
        pytest.param("water", "wˈɔɾəɹ", "W AO1 T ER0", id="a flap that is written t"),
        pytest.param("ladder", "lˈæɾəɹ", "L AE1 D ER0", id="a flap that is written d"),
        pytest.param("cake", "kˈAk", "K EY1 K", id="a diphthong"),
    ],
)
def test_phones_of_the_tagged_dictionary(word: str, ipa: str, phones: str) -> None:
    assert phones_of(TAGGED, word, ipa) == tuple(phones.split())
