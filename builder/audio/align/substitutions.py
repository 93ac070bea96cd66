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
# By how much the other must fit the place better, of 1. Of 128 words with another sound in its
# place half of the embedded voice's lie above it and 45 % of the natural one's; said rightly 12 of
# 200 and none (python -m tests.benchmarks.substitutions), and 2 of 45 recordings of people. /f/ and
# /θ/ are not told apart.
SCORE_MARGIN = 0.5


def likely_substitution(
    frames: FrameLikelihoods, words: Words, focus: Focus, symbol: str, expected: Alignment
) -> str:
    """The symbol of the sound that fits the target's place clearly better; "" for none.

    expected: the alignment with the words as they should be. Only targets of one phone are
    compared.
    """
    word, first, past = focus
    if past != first + 1:
        return ""
    at, _ = among_all(words, focus)
    lowest, best = expected.phone_scores[at] + SCORE_MARGIN, ""
    for other in SUBSTITUTIONS.get(symbol, ()):
        swapped = (*words[word][:first], other, *words[word][past:])
        fits = phone_scores(frames, (*words[:word], swapped, *words[word + 1 :]))
        if fits and fits[at] > lowest:
            lowest, best = fits[at], other
    return best
