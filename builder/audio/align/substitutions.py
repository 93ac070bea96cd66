"""Whether another sound than the target was said in its place: one that is often said instead."""

from __future__ import annotations

from builder.audio.align.forced import Alignment, FrameLikelihoods, phone_scores
from builder.phonetics.position import Focus, Words, among_all

# Substitutions of children learning English, and the voiced or voiceless twin (common practice, no
# source): by the target, what is said in its place.
SUBSTITUTIONS = {
    "S": ("TH", "T", "SH", "Z"),
    "Z": ("S", "DH", "D"),
    "SH": ("S", "CH"),
    "ZH": ("SH", "Z"),
    "CH": ("T", "SH"),
    "JH": ("D", "CH"),
    "F": ("P", "S"),
    "V": ("B", "F"),
    "TH": ("S", "T"),
    "DH": ("D", "V", "Z"),
    "K": ("T", "G"),
    "G": ("D", "K"),
    "T": ("K", "D"),
    "D": ("G", "T"),
    "P": ("B",),
    "B": ("P",),
    "M": ("N", "B"),
    "N": ("M", "D", "L"),
    "NG": ("N",),
    "L": ("W", "Y"),
    "R": ("W",),
}
# Other sounds that the model tells from the target well, by how much the other must fit the place
# better, of 1: chosen on 350 clean words of people and two voices and on spliced ones
# (tests/benchmarks/spoiled.py); of 200 others each voice's wrong ones are counted by
# tests/benchmarks/substitutions.py. What else is often said instead must fit better by
# SCORE_MARGIN. /f/ and /θ/ are not told apart.
SCORE_MARGIN = 0.5
RIVALS: dict[str, dict[float, str]] = {
    "P": {0.1: "K SH"},
    "B": {0.1: "G", 0.2: "L", 0.3: "JH"},
    "T": {0.1: "P K CH", 0.2: "S"},
    "D": {0.1: "TH K CH"},
    "K": {0.1: "L Z R", 0.3: "N"},
    "G": {0.1: "R"},
    "CH": {0.1: "SH HH L", 0.3: "P"},
    "JH": {0.1: "P SH L CH"},
    "F": {0.1: "CH", 0.2: "S L"},
    "V": {0.1: "K CH"},
    "TH": {0.1: "T P CH S"},
    "DH": {0.1: "V Z", 0.3: "D"},
    "S": {0.1: "T B SH N Z", 0.3: "L"},
    "Z": {0.1: "CH", 0.3: "K T"},
    "SH": {0.1: "P D CH", 0.2: "T S"},
    "ZH": {0.3: "Z"},
    "HH": {0.1: "D"},
    "M": {0.1: "P B"},
    "N": {0.1: "T", 0.3: "M D"},
    "NG": {0.1: "N"},
    "L": {0.1: "T DH Y"},
    "R": {0.3: "T"},
}


def margins(symbol: str) -> dict[str, float]:
    """By which each other sound must fit the place of `symbol` better, to be the one that was
    said."""
    told = {other: by for by, some in RIVALS.get(symbol, {}).items() for other in some.split()}
    return dict.fromkeys(SUBSTITUTIONS.get(symbol, ()), SCORE_MARGIN) | told


def likely_substitution(
    frames: FrameLikelihoods, words: Words, focus: Focus, symbol: str, expected: Alignment
) -> str:
    """The symbol of the sound that fits the target's place clearly better, of several one that is
    often said instead; "" for none.

    expected: the alignment with the words as they should be. Only targets of one phone are
    compared.
    """
    word, first, past = focus
    if past != first + 1:
        return ""
    at, _ = among_all(words, focus)
    usual, found = SUBSTITUTIONS.get(symbol, ()), dict[str, tuple[bool, float]]()
    for other, margin in margins(symbol).items():
        swapped = (*words[word][:first], other, *words[word][past:])
        fits = phone_scores(frames, (*words[:word], swapped, *words[word + 1 :]))
        if fits and fits[at] > expected.phone_scores[at] + margin:
            found[other] = (other in usual, fits[at])
    return max(found, key=lambda other: found[other], default="")
