"""Which words and which lines: one carrier for a whole round, or as many lines as there are items.
The lightest and shortest come first, and what is said varies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import zip_longest
from typing import TypeVar

from builder.drafting.frames import Frame, Longer, frames
from builder.drafting.line_difficulty import Limits, difficulty, spare_targets
from builder.drafting.word_kinds import PractisedWord
from builder.program_file.pronounce import words_of

T = TypeVar("T")
MIN_LINES, MAX_LINES = 5, 8  # items of a phrase or sentence step
REPEAT_COST, SAME_START_COST = 8, 2  # against saying a line, or its first word, once more


def in_turn(lists: Sequence[Sequence[T]]) -> list[T]:
    """One of each list, then the next of each, so that no position comes off badly."""
    return [one for row in zip_longest(*lists) for one in row if one is not None]


def max_words(level: Longer, age: int | None) -> int:
    """The most words of a line; at four years a sentence has five. Common practice, no source."""
    if level == "phrase":
        return 3 if age is not None and age < 6 else 4
    return 8 if age is None else min(8, max(4, age + 1))


def ranked(words: Sequence[PractisedWord], limit: Limits) -> tuple[PractisedWord, ...]:
    """The words as they stand, those with a second target at an untaught place last.

    Words of no known kind, which can only be quoted, are left out where there are enough others.
    """
    known = [w for w in words if w.kinds]
    chosen = known if len(known) >= MIN_LINES else words
    return tuple(sorted(chosen, key=lambda w: (spare_targets(w, limit) > 0, not w.kinds)))


def carrier_lines(
    words: Sequence[PractisedWord],
    level: Longer,
    limit: Limits,
    most: int = MAX_LINES,
    age: int | None = None,
) -> tuple[str, ...]:
    """One carrier with up to `most` words in it; () when no carrier takes enough of them.

    The carrier that the client can best say wins, among those for as many words as may be.
    """
    wanted = min(most, len(words), MIN_LINES)
    best: tuple[tuple[int, int, int], tuple[str, ...]] | None = None
    for frame in frames(level, same=True):
        lines = _of_one(frame, ranked(words, limit), limit, most)
        if (
            len(lines) < wanted
            or not lines
            or len(words_of(lines[0][1])) > max_words(level, age) + 1
        ):
            continue
        key = (max(cost for cost, _ in lines), frame.order, -len(lines))
        if best is None or key < best[0]:
            best = key, tuple(text for _, text in lines)
    return best[1] if best else ()


def _of_one(
    frame: Frame, words: Sequence[PractisedWord], limit: Limits, most: int
) -> list[tuple[int, str]]:
    """The lines of one carrier; only the practised word changes, the article stays."""
    found: list[tuple[int, str]] = []
    around: Counter[str] = Counter()
    filled = [(w, frame.fill(w)) for w in words if frame.takes(w)]
    around.update(_around(text, w) for w, text in filled)
    usual = around.most_common(1)[0][0] if around else ""
    for word, text in filled:
        cost = difficulty(text, word, limit)
        if cost is not None and _around(text, word) == usual and len(found) < most:
            found.append((cost, text))
    return found


def _around(text: str, word: PractisedWord) -> str:
    return text.replace(word.text, "")


def varied_lines(
    words: Sequence[PractisedWord],
    level: Longer,
    limit: Limits,
    most: int = MAX_LINES,
    age: int | None = None,
    taken: Sequence[str] = (),
) -> tuple[str, ...]:
    """Up to `most` lines, each around one practised word, short ones first; none of `taken`."""
    used: Counter[str] = Counter()
    lines = dict.fromkeys(taken, "")
    order = list(ranked(words, limit))
    for word in [*order, *order][: max(most, 0) if len(order) >= MIN_LINES else MIN_LINES]:
        line = _best_line(word, level, limit, max_words(level, age), used, lines)
        if line:
            text, frame = line
            lines[text] = frame.text
            used[frame.text] += REPEAT_COST
            used[_first_word(text)] += SAME_START_COST
    made = [text for text in lines if text not in taken]
    return tuple(sorted(made, key=lambda text: (len(words_of(text)), len(text))))


def _best_line(
    word: PractisedWord,
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
        cost = difficulty(text, word, limit)
        if cost is None or text in lines or len(words_of(text)) > words:
            continue
        key = (cost + used[frame.text] + used[_first_word(text)], len(words_of(text)), frame.order)
        if best is None or key < best[0]:
            best = key, text, frame
    return best[1:] if best else None


def _first_word(text: str) -> str:
    return words_of(text)[0].lower()
