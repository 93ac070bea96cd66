"""Which words and which lines: a few carriers that a client keeps in mind, or as many lines as
there are items. What a person would say comes first, what is said varies, and the practiced word
stands inside of a line as often as at its end."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise, permutations, zip_longest
from typing import TypeVar

from builder.drafting.frames import Frame, Longer, frames
from builder.drafting.line_difficulty import LACKED_COST, Limits, difficulty, spare_targets
from builder.drafting.word_kinds import PractisedWord, age_of
from builder.drafting.word_kinds import words as known_words
from builder.program_file.pronounce import words_of

T = TypeVar("T")
MIN_LINES, MAX_LINES = 5, 8  # items of a phrase or sentence step
MAX_CARRIERS, MIN_CARRIED = 4, 2  # carriers of a step; words that one of them carries at least
ENOUGH_CARRIED = 4  # words after which a last carrier may have a single one
# What speaks against a line, beside what the client cannot say well, which counts this many times:
DIFFICULTY_WEIGHT = 5
REPEAT_COST, SAME_START_COST, SAME_PLACE_COST = 16, 3, 6
WORD_AGAIN_COST = 10
MIN_DOUBLE = 4  # sentences of two practiced words that are worth a step
WEAK_ORDER = 40  # from this order on a line is only the last resort
PLAIN_ORDER = 9  # from this order on a line only sets two things side by side
MORE_WORDS = 2  # words that a sentence of two practiced words may have beyond another
CARRIER_GAIN = 6  # for each word that a carrier carries


def in_turn(lists: Sequence[Sequence[T]]) -> list[T]:
    """One of each list, then the next of each, so that no position comes off badly."""
    return [one for row in zip_longest(*lists) for one in row if one is not None]


def max_words(level: Longer, age: int | None) -> int:
    """The most words of a line; at four years a sentence has five. Common practice, no source."""
    if level == "phrase":
        return 3 if age is not None and age < 6 else 5
    return 8 if age is None else min(8, max(4, age + 1))


def ranked(words: Sequence[PractisedWord], limit: Limits) -> tuple[PractisedWord, ...]:
    """The words of a known kind as they stand, those with a second target at an untaught place
    last."""
    known = (w for w in words if w.kinds)
    return tuple(sorted(known, key=lambda w: spare_targets(w, limit) > 0))


@dataclass(frozen=True)
class Line:
    """One line around one word, and what speaks against it."""

    text: str
    word: PractisedWord
    frame: Frame
    cost: int
    other: PractisedWord | None = None

    @property
    def both(self) -> tuple[str, ...]:
        """Its practiced words."""
        return (self.word.text, self.other.text) if self.other else (self.word.text,)

    @property
    def first(self) -> str:
        """Its first word."""
        return words_of(self.text)[0].lower()

    @property
    def last(self) -> bool:
        """Whether the practiced word is its last."""
        parts = [part.lower() for part in words_of(self.text)]
        return parts[-1] in {p.lower() for p in words_of(f"{self.word.text} {self.word.plural}")}

    @property
    def around(self) -> str:
        """What is said around the word, which a carrier keeps, the article too."""
        return self.frame.text + self.text[: self.text.find(self.word.text)].replace("an ", "a ")


def _lines(
    word: PractisedWord, level: Longer, limit: Limits, age: int | None, taken: Sequence[str]
) -> Iterator[Line]:
    """Every line around a word that the client may say."""
    for frame in frames(level):
        for at, text in enumerate(_texts(frame, word, age)):
            long = len(words_of(text))
            if text in taken or not 2 <= long <= max_words(level, age):
                continue
            cost = difficulty(text, word, limit)
            if cost is not None and cost < LACKED_COST:
                yield Line(text, word, frame, cost * DIFFICULTY_WEIGHT + frame.order + at)


def _texts(frame: Frame, word: PractisedWord, age: int | None) -> Iterator[str]:
    band = age_of(age)
    yield from frame.fill(word, band) if frame.takes(word, band) else ()


def carrier_lines(
    words: Sequence[PractisedWord],
    level: Longer,
    limit: Limits,
    most: int = MAX_LINES,
    age: int | None = None,
) -> tuple[str, ...]:
    """A few carriers with up to `most` words in them; () when they take too few of them.

    In sentences the practiced word stands inside of one carrier and at the end of another.
    """
    nouns = [w for w in ranked(words, limit) if "noun" in w.kinds]
    wanted = max(1, min(most, len(nouns), MIN_LINES))
    half = max(MIN_CARRIED, (min(most, len(nouns)) + 1) // 2)
    for each in (half, most):
        found = _carriers(nouns, level, limit, age, most, each)
        lines = tuple(line.text for carrier in found for line in carrier)
        if len(lines) >= wanted:
            return lines
    return ()


def _carriers(
    words: Sequence[PractisedWord],
    level: Longer,
    limit: Limits,
    age: int | None,
    most: int,
    each: int,
) -> list[list[Line]]:
    """The best carriers, one after another, each with up to `each` of the words that are left.

    Each carries two words at least; after four, a last one may carry a single word.
    """
    left, found = list(words), list[list[Line]]()
    while len(found) < MAX_CARRIERS and (room := most - sum(map(len, found))) > 0:
        carrier = _best_carrier(left, level, limit, age, min(room, each), found)
        if len(carrier) < (MIN_CARRIED if most - room < ENOUGH_CARRIED else 1):
            break
        found.append(carrier)
        if len(carrier) < MIN_CARRIED:
            break
        said = {line.word.text for line in carrier}
        left = [word for word in left if word.text not in said]
    return found


def _best_carrier(
    words: Sequence[PractisedWord],
    level: Longer,
    limit: Limits,
    age: int | None,
    each: int,
    there: Sequence[Sequence[Line]],
) -> list[Line]:
    """The lines of the carrier that serves most words best."""
    by_carrier: dict[str, dict[str, Line]] = {}
    for word in words:
        fit = (x for x in _lines(word, level, limit, age, ()) if x.frame.order < WEAK_ORDER)
        for line in fit:
            by_carrier.setdefault(line.around, {}).setdefault(word.text, line)
    used = {lines[0].around for lines in there}
    places = Counter(lines[0].last for lines in there for _ in lines)

    def worth(lines: Sequence[Line]) -> int:
        again = SAME_PLACE_COST if level == "sentence" and places[lines[0].last] else 0
        return sum(CARRIER_GAIN - line.cost for line in lines) - again * len(lines)

    chosen = [
        sorted(lines.values(), key=lambda line: line.cost)[:each]
        for around, lines in by_carrier.items()
        if around not in used
    ]
    return max(chosen, key=lambda lines: (len(lines) >= MIN_CARRIED, worth(lines)), default=[])


@dataclass
class _Said:
    """What was said already: how often each carrier, first word and place of the word."""

    frames: Counter[str] = field(default_factory=Counter)
    firsts: Counter[str] = field(default_factory=Counter)
    places: Counter[bool] = field(default_factory=Counter)

    def cost(self, line: Line, level: Longer) -> int:
        """What speaks against one more such line."""
        more = self.places[line.last] - self.places[not line.last]
        again = SAME_PLACE_COST * max(more, 0) if level == "sentence" else 0
        repeated = REPEAT_COST * self.frames[line.frame.text]
        return line.cost + repeated + SAME_START_COST * self.firsts[line.first] + again

    def add(self, line: Line) -> None:
        """Count a line."""
        self.frames[line.frame.text] += 1
        self.firsts[line.first] += 1
        self.places[line.last] += 1


def varied_lines(
    words: Sequence[PractisedWord],
    level: Longer,
    limit: Limits,
    most: int = MAX_LINES,
    age: int | None = None,
    taken: Sequence[str] = (),
) -> tuple[str, ...]:
    """Up to `most` lines, each around one practiced word, short ones first; none of `taken`."""
    said = _Said()
    made: list[str] = []
    order = list(ranked(words, limit))
    for word in [*order, *order][: max(most, 0) if len(order) >= MIN_LINES else MIN_LINES]:
        lines = list(_lines(word, level, limit, age, (*taken, *made)))
        if lines:
            best = min(lines, key=lambda line: (said.cost(line, level), len(line.text)))
            said.add(best)
            made.append(best.text)
    return tuple(sorted(made, key=lambda text: (len(words_of(text)), len(text))))


def double_lines(
    words: Sequence[PractisedWord],
    limit: Limits,
    most: int = MAX_LINES,
    age: int | None = None,
) -> tuple[str, ...]:
    """Up to `most` sentences with two practiced words each, short ones first.

    No pair comes twice, and a word, a line and a first word as seldom as may be. Lines that only
    set two things side by side fill up to MIN_DOUBLE; fewer than that are none.
    """
    lines = _every_double(words, limit, age)
    said, used, made = _Said(), Counter[str](), list[Line]()
    while lines and len(made) < most:
        best = min(lines, key=lambda x: (said.cost(x, "phrase") + _used_cost(x, used), len(x.text)))
        if best.frame.order >= PLAIN_ORDER and len(made) >= MIN_DOUBLE:
            break
        made.append(best)
        said.add(best)
        used.update(best.both)
        lines = [line for line in lines if {*line.both} != {*best.both}]
    texts = [line.text for line in made] if len(made) >= MIN_DOUBLE else []
    return tuple(sorted(texts, key=lambda text: (len(words_of(text)), len(text))))


def doubles(
    words: Sequence[PractisedWord], limit: Limits, most: int, age: int | None
) -> tuple[str, ...]:
    """The same, and behind them every other one that may be said, the best first; none that says
    the same two words the other way round."""
    others = sorted(_every_double(words, limit, age), key=lambda line: (line.cost, len(line.text)))
    chosen = double_lines(words, limit, most, age)
    others.sort(key=lambda line: line.text not in chosen)
    once: dict[tuple[frozenset[str], str], str] = {}
    for line in others:
        once.setdefault((frozenset(line.both), line.frame.text), line.text)
    return tuple(dict.fromkeys([*chosen, *once.values()]))


def _every_double(words: Sequence[PractisedWord], limit: Limits, age: int | None) -> list[Line]:
    nouns = [w for w in ranked(words, limit) if "noun" in w.kinds]
    return [line for one, other in permutations(nouns, 2) for line in _both(one, other, limit, age)]


def _used_cost(line: Line, used: Counter[str]) -> int:
    """What speaks against words that were said already."""
    return WORD_AGAIN_COST * sum(used[text] for text in line.both)


def _both(
    word: PractisedWord, other: PractisedWord, limit: Limits, age: int | None
) -> Iterator[Line]:
    for frame in frames("double"):
        if not frame.takes_both(word, other, age_of(age)):
            continue
        text = frame.fill_both(word, other)
        if len(words_of(text)) > max_words("sentence", age) + MORE_WORDS:
            continue
        cost = difficulty(text, word, limit)
        if cost is not None and cost < LACKED_COST:
            yield Line(text, word, frame, cost * DIFFICULTY_WEIGHT + frame.order, other)


def _words_in(text: str) -> tuple[PractisedWord, ...]:
    parts = words_of(text)
    joined = (f"{one} {next_one}" for one, next_one in pairwise(parts))
    return known_words([*parts, *joined])


def is_drafted_double(text: str) -> bool:
    """Whether a sentence is one that drafts say of two of its words, at whatever age."""
    return any(
        text == frame.fill_both(one, other)
        for one, other in permutations(_words_in(text), 2)
        for frame in frames("double")
        if any(frame.takes_both(one, other, age) for age in frame.ages)
    )


def is_drafted(text: str, level: Longer) -> bool:
    """Whether a line is one that drafts say around one of its words, at whatever age."""
    known = _words_in(text)
    return any(
        text in frame.fill(one, age)
        for one in known
        for frame in frames(level)
        for age in frame.ages
        if frame.takes(one, age)
    )
