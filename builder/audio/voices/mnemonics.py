"""From the phones that were checked (ARPABET with stress) to the mnemonics by which espeak-ng's
American English phoneme table is addressed. A table of ours; knows nothing of audio.

Source of the mnemonics: espeak-ng, docs/phonemes.md and phsource/ph_english_us.
"""

from __future__ import annotations

from dataclasses import dataclass

from builder.phonetics.inventory import bare, is_vowel

CONSONANTS = {
    "P": "p",
    "B": "b",
    "T": "t",
    "D": "d",
    "K": "k",
    "G": "g",
    "CH": "tS",
    "JH": "dZ",
    "F": "f",
    "V": "v",
    "TH": "T",
    "DH": "D",
    "S": "s",
    "Z": "z",
    "SH": "S",
    "ZH": "Z",
    "HH": "h",
    "M": "m",
    "N": "n",
    "NG": "N",
    "L": "l",
    "R": "r",
    "W": "w",
    "Y": "j",
}
VOWELS = {
    "IY": "i:",
    "IH": "I",
    "EY": "eI",
    "EH": "E",
    "AE": "a",
    "AA": "A:",
    "AO": "O:",
    "OW": "oU",
    "UH": "U",
    "UW": "u:",
    "AH": "V",
    "AY": "aI",
    "AW": "aU",
    "OY": "OI",
    "ER": "3:",
}
UNSTRESSED = {"IY": "i", "AH": "@", "ER": "3"}
# Vowel + r at the end of a syllable is one phoneme of the table.
RHOTICS = {"AA": "A@", "EH": "e@", "IH": "i@3", "IY": "i@3", "AO": "o@", "UH": "U@"}
SYLLABIC_L = "@L"
DIPHTHONGS = ("AY", "AW", "OY")  # an r after them is a syllable of its own: `fire`, `hour`
# What the engine makes of a mnemonic, by its neighbours: the flap between vowels, ŋ before k and
# g, ɚ before r, i at the end.
ALLOPHONES = {"t": ("t#",), "d": ("t#",), "n": ("N",), "@": ("3",), "I": ("i",)}
STRESS = {"1": "'", "2": ",", "0": ""}
# Words that carry no stress inside a phrase (common practice, no source).
WEAK = frozenset(
    """
    a an the and or but as than that to of at in on for from by with is am are was were be
    been do does did has have had can could will would shall should must i you he she it we they
    me him her us them my your his its our their some so if
    """.split()  # noqa: SIM905
)


@dataclass(frozen=True)
class Mnemonic:
    """One mnemonic of the engine and the phones [start, stop) of the word that it speaks."""

    sign: str
    stress: str
    start: int
    stop: int

    @property
    def typed(self) -> str:
        """The mnemonic with its stress mark, as the engine reads it."""
        return STRESS[self.stress] + self.sign


def mnemonics_of(phones: tuple[str, ...], *, weak: bool = False) -> tuple[Mnemonic, ...]:
    """The phones of one word as mnemonics, left to right; `weak` takes its stress away.

    Two phones become one mnemonic where no vowel follows: a vowel + r (`car`), and AH0 L (the
    syllabic l of `bottle`).
    """
    found: list[Mnemonic] = []
    at = 0
    while at < len(phones):
        sign, taken = _mnemonic(phones, at)
        stress = phones[at][-1] if is_vowel(phones[at]) else "0"
        found.append(Mnemonic(sign, "0" if weak else stress, at, at + taken))
        at += taken
    return tuple(found)


def _mnemonic(phones: tuple[str, ...], at: int) -> tuple[str, int]:
    """The mnemonic that begins with a phone, and how many phones it speaks."""
    if pair := _of_two(phones, at):
        return pair, 2
    phone = bare(phones[at])
    if phone == "R" and _is_own_syllable(phones, at):
        return UNSTRESSED["ER"], 1
    if phones[at].endswith("0") and phone in UNSTRESSED:
        return UNSTRESSED[phone], 1
    return CONSONANTS.get(phone) or VOWELS[phone], 1


def _of_two(phones: tuple[str, ...], at: int) -> str:
    """The mnemonic of a phone and the l or r after it, which end a syllable; "" for none."""
    if vowel_at(phones, at + 2):
        return ""
    after = phones[at + 1 : at + 2]
    if after == ("R",):
        return RHOTICS.get(bare(phones[at]), "")
    return SYLLABIC_L if phones[at] == "AH0" and after == ("L",) else ""


def _is_own_syllable(phones: tuple[str, ...], at: int) -> bool:
    """Whether an r is one: after a diphthong and before no vowel."""
    return at > 0 and bare(phones[at - 1]) in DIPHTHONGS and not vowel_at(phones, at + 1)


def vowel_at(phones: tuple[str, ...], at: int) -> bool:
    """Whether there is a vowel at that place."""
    return at < len(phones) and is_vowel(phones[at])


def is_weak(text: str) -> bool:
    """Whether a word carries no stress inside a phrase."""
    return text.strip(".,;:!?\"'’").lower() in WEAK


def sentence(words: tuple[tuple[Mnemonic, ...], ...], mark: str) -> str:
    """What is sent to the engine. `|` keeps t and ʃ of `nutshell` from becoming tʃ."""
    return "[[" + " ".join("|".join(u.typed for u in word) for word in words) + "]]" + mark
