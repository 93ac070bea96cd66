"""Which words and which lines: one carrier for a whole round, or as many lines as there are items.
The lightest and shortest come first, and what is said varies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import zip_longest
from typing import TypeVar

from builder.drafting.frames import Frame, Longer, frames
from builder.drafting.line_difficulty import Limits, burden, spare_targets
from builder.drafting.word_kinds import Word
from builder.program_file.pronounce import words_of

T = TypeVar("T")
FEWEST, MOST = 5, 8  # items of a phrase or sentence step
AGAIN, SAME_BEGINNING = 8, 2  # against saying a line, or its first word, once more


def in_turn(lists: Sequence[Sequence[T]]) -> list[T]:
    """One of each list, then the next of each, so that no position comes off badly."""
    return [one for row in zip_longest(*lists) for one in row if one is not None]


def longest(level: Longer, age: int | None) -> int:
    """The most words of a line; at four years a sentence has five. Common practice, no source."""
    if level == "phrase":
        return 3 if age is not None and age < 6 else 4
    return 8 if age is None else min(8, max(4, age + 1))


def ranked(words: Sequence[Word], limit: Limits) -> tuple[Word, ...]:
    """The words as they stand, those with a second target at an untaught place last.

    Words of no known kind, which can only be quoted, are left out where there are enough others.
    """
    known = [w for w in words if w.kinds]
    chosen = known if len(known) >= FEWEST else words
    return tuple(sorted(chosen, key=lambda w: (spare_targets(w, limit) > 0, not w.kinds)))


def same_carrier(
    words: Sequence[Word], level: Longer, limit: Limits, most: int = MOST, age: int | None = None
) -> tuple[str, ...]:
    """One carrier with up to `most` words in it; () when no carrier takes enough of them.

    The carrier that the client can best say wins, among those for as many words as may be.
    """
    wanted = min(most, len(words), FEWEST)
    best: tuple[tuple[int, int, int], tuple[str, ...]] | None = None
    for frame in frames(level, same=True):
        lines = _of_one(frame, ranked(words, limit), limit, most)
        if len(lines) < wanted or not lines or len(words_of(lines[0][1])) > longest(level, age) + 1:
            continue
        key = (max(cost for cost, _ in lines), frame.order, -len(lines))
        if best is None or key < best[0]:
            best = key, tuple(text for _, text in lines)
    return best[1] if best else ()


def _of_one(frame: Frame, words: Sequence[Word], limit: Limits, most: int) -> list[tuple[int, str]]:
    """The lines of one carrier; only the practised word changes, the article stays."""
    found: list[tuple[int, str]] = []
    around: Counter[str] = Counter()
    filled = [(w, frame.fill(w)) for w in words if frame.takes(w)]
    around.update(_around(text, w) for w, text in filled)
    usual = around.most_common(1)[0][0] if around else ""
    for word, text in filled:
        cost = burden(text, word, limit)
        if cost is not None and _around(text, word) == usual and len(found) < most:
            found.append((cost, text))
    return found


def _around(text: str, word: Word) -> str:
    return text.replace(word.text, "")


def free(
    words: Sequence[Word],
    level: Longer,
    limit: Limits,
    most: int = MOST,
    age: int | None = None,
    taken: Sequence[str] = (),
) -> tuple[str, ...]:
    """Up to `most` lines, each around one practised word, short ones first; none of `taken`."""
    used: Counter[str] = Counter()
    lines = dict.fromkeys(taken, "")
    order = list(ranked(words, limit))
    for word in [*order, *order][: max(most, 0) if len(order) >= FEWEST else FEWEST]:
        line = _next(word, level, limit, longest(level, age), used, lines)
        if line:
            text, frame = line
            lines[text] = frame.text
            used[frame.text] += AGAIN
            used[_first(text)] += SAME_BEGINNING
    made = [text for text in lines if text not in taken]
    return tuple(sorted(made, key=lambda text: (len(words_of(text)), len(text))))


def _next(
    word: Word,
    level: Longer,
    limit: Limits,
    words: int,
    used: Counter[str],
    lines: dict[str, str],
) -> tuple[str, Frame] | None:
    """The best line for a word that was not said yet."""
    best: tuple[tuple[int, int, int], str, Frame] | None = None
    for frame in frames(level, same=False):
        if not frame.takes(word):
            continue
        text = frame.fill(word)
        cost = burden(text, word, limit)
        if cost is None or text in lines or len(words_of(text)) > words:
            continue
        key = (cost + used[frame.text] + used[_first(text)], len(words_of(text)), frame.order)
        if best is None or key < best[0]:
            best = key, text, frame
    return best[1:] if best else None


def _first(text: str) -> str:
    return words_of(text)[0].lower()
