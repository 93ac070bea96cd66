"""Words that the word bank never offers and never prints: coarse ones from a maintained list (the
package better-profanity, MIT, read without importing it), and our own of weapons, harm, fright,
alcohol, bodies and slights, and odd words, brands and irregular forms. A therapist may still write
any of them into a program."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files

from builder.packages import needed
from builder.wordbank.norms import classes, norm

PACKAGE, LIST = "better_profanity", "profanity_wordlist.txt"
ENDING = re.compile(r"(?:'s|s|es|ed|d|ing|er|ers|y|ies|ier|r|rs)$")
# Letters of an unsuitable word by which a longer word is known as its compound.
MIN_PART_LETTERS = 4


@cache
def is_unsuitable(word: str, lemma: str = "") -> bool:
    """Whether a word, or the word of which it is a form, is left out."""
    bad = words()
    if word in bad or lemma in bad:
        return True
    return not classes(word) and (_inflected(word) or _compound(word))


def _inflected(word: str) -> bool:
    """Whether the word is an unsuitable one with an ending, doubled letters and a lost e too."""
    for match in (ENDING.search(word, at) for at in range(1, len(word))):
        if match is None:
            return False
        stem = word[: match.start()]
        short = stem[:-1] if len(stem) > 2 and stem[-1] == stem[-2] else stem
        if {stem, stem + "e", stem + "y", short} & words():
            return True
    return False


def _compound(word: str) -> bool:
    """Whether it is made of an unsuitable word and another: `bloodstain`, but not `skilled`."""
    bad = words()
    cuts = range(3, len(word) - 2)
    first = any(word[:c] in bad and _long_enough(word[:c]) and norm(word[c:]) for c in cuts)
    return first or any(word[c:] in bad and _long_enough(word[c:]) and norm(word[:c]) for c in cuts)


def _long_enough(part: str) -> bool:
    return len(part) >= MIN_PART_LETTERS or part in _ours().get("weapons", ())


@cache
def words() -> frozenset[str]:
    """All unsuitable words. They are for comparing only: nothing prints them."""
    return _plain() | _coarse()


def coarse_only() -> frozenset[str]:
    """The coarse words of the package without those of our own list, which are plain words."""
    return _coarse() - _plain()


def _plain() -> frozenset[str]:
    return frozenset(w for group in _ours().values() for w in group)


@cache
def _coarse() -> frozenset[str]:
    lines = (needed(PACKAGE) / LIST).read_text(encoding="utf-8").splitlines()
    return frozenset(line.strip().lower() for line in lines if line.strip())


@cache
def _ours(language: str = "en") -> dict[str, tuple[str, ...]]:
    text = files("builder.wordbank").joinpath(f"data/{language}_unsuitable.txt").read_text("utf-8")
    lines = (line.partition(":") for line in text.splitlines() if not line.startswith("#"))
    return {kind: tuple(listed.split()) for kind, _, listed in lines}
