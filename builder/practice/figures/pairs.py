"""Contrast rounds: which of two words the helper heard, beside the one that was chosen. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from builder.model.record import Sitting
from builder.practice.figures.intervals import Rate
from builder.practice.figures.tries import View, steps_of

GUESSED = 0.5  # of two words


@dataclass(frozen=True)
class Told:
    """How often words of one pair, or of pairs that share a word, were told apart.

    words: their ids, those with the target first. kept: heard as chosen, of all choices; half of
    them by guessing alone, so that 50 % is nothing. confused: (chosen, heard, how often), most
    often first.
    """

    step: str
    words: tuple[str, ...]
    kept: Rate
    confused: tuple[tuple[str, str, int], ...]

    @property
    def apart(self) -> bool:
        """Whether they are surely told apart better than by guessing: all of the 95 % interval
        (Wilson) is above a half."""
        return self.kept.interval[0] > GUESSED


def pairs_told(sittings: Iterable[Sitting], view: View) -> tuple[Told, ...]:
    """Each pair that was tried, the one told apart least first.

    Pairs that share a word are one figure: where it was heard as chosen, no record says which of
    the other words it stood beside.
    """
    heard: dict[tuple[str, tuple[str, ...]], Counter[tuple[str, str]]] = {}
    for sitting in sittings:
        steps = steps_of(view(sitting.site, sitting.plan))
        for trial in sitting.trials:
            if trial.chosen is None or trial.heard is None or trial.repeat:
                continue
            step = steps.get(trial.step)
            words = _together(trial.chosen, step.pairs) if step else ()
            if trial.heard in words:
                heard.setdefault((trial.step, words), Counter())[trial.chosen, trial.heard] += 1
    found = [_told(step, words, counter) for (step, words), counter in heard.items()]
    return tuple(sorted(found, key=lambda one: (one.kept.share, one.step, one.words)))


def _together(word: str, pairs: tuple[tuple[str, str], ...]) -> tuple[str, ...]:
    """The words of all pairs that hang together with a word: all first ones, then all second; ()
    where it is in no pair."""
    group: set[str] = {word}
    while more := {w for pair in pairs if group & set(pair) for w in pair} - group:
        group |= more
    own = [pair for pair in pairs if group & set(pair)]
    return tuple(dict.fromkeys([*(first for first, _ in own), *(second for _, second in own)]))


def _told(step: str, words: tuple[str, ...], counter: Counter[tuple[str, str]]) -> Told:
    right = sum(n for (chosen, heard), n in counter.items() if chosen == heard)
    confused = ((chosen, heard, n) for (chosen, heard), n in counter.items() if chosen != heard)
    return Told(
        step,
        words,
        Rate(right, counter.total()),
        tuple(sorted(confused, key=lambda one: (-one[2], one[:2]))),
    )
