"""Which letters of an item spell its targets."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from builder.phonetics.position import Focus, Words
from builder.phonetics.spelling import fits, target_span
from builder.text.passage import WORD


def letters_of(
    text: str, phones: Words, targets: Collection[Focus], *, alone: bool
) -> tuple[tuple[str, bool], ...]:
    """The text in parts, True where letters spell a target; whole where that is not known.

    phones: of every word. alone: the text names a sound by itself.
    """
    words = WORD.findall(text) if len(phones) != 1 or " " in text else (text.strip(".!?"),)
    if alone or not targets or len(words) != len(phones):
        return ((text, alone and bool(targets)),)
    parts, done, begin = [], 0, 0
    for at, word in enumerate(words):
        begin = text.index(word, begin)
        for low, high in _spans(word, phones[at], sorted(f[1:] for f in targets if f[0] == at)):
            parts += [(text[done : begin + low], False), (text[begin + low : begin + high], True)]
            done = begin + high
        begin += len(word)
    return tuple(part for part in (*parts, (text[done:], False)) if part[0])


def _spans(
    word: str, phones: tuple[str, ...], targets: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, int]]:
    """The letters of each target in a word, one after the other."""
    done = 0
    # Letters that the table cannot explain are not set off: a guess would mislead.
    for start, stop in targets if targets and fits(word, phones) else ():
        span = target_span(word, phones, start, stop)
        if span and span[1] > done:
            yield max(span[0], done), span[1]
            done = span[1]
