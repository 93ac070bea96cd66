"""Letters of other alphabets that look like ours: the eye reads `kite`, a dictionary does not."""

from __future__ import annotations

import re

# Cyrillic and Greek letters with the Latin one of the same shape. The Greek letters of IPA (β, θ,
# χ) are left out, and so are those that differ from their twin (α, ι).
ALIKE = str.maketrans(
    "аеорсухкіѕјһԁԛԝАВЕКМНОРСТУХІЅЈοΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
    "aeopcyxkisjhdqwABEKMHOPCTYXISJoABEZHIKMNOPTYX",
)
WORD = re.compile(r"[^\W\d_]+")
OURS = re.compile("[A-Za-z]")
FOREIGN = re.compile(f"[{''.join(map(chr, ALIKE))}]")


def foreign_words(text: str) -> list[str]:
    """The words in which a letter of another alphabet is among ours."""
    if text.isascii():
        return []
    return [w for w in WORD.findall(text) if FOREIGN.search(w) and OURS.search(w)]


def first_foreign(word: str) -> tuple[int, str]:
    """Where in a word that `foreign_words` gives the first such letter is, and its twin of ours."""
    at = next(at for at, letter in enumerate(word) if FOREIGN.match(letter))
    return at, word[at].translate(ALIKE)
