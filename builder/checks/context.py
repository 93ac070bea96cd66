"""Context: what is beside the target, in its word and in the words around it.

A word is reported once in a program, in the first step that has it; words are reported together.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from builder.checks.findings import finding, listed, quoted, verb
from builder.checks.items import WORD_LEVELS, words_in_sentence_case
from builder.model.program import Client, Item, Program, Step
from builder.model.spoken import Spoken
from builder.phonetics.position import Occurrence, cluster_ipa, occurrences
from builder.phonetics.seams import lost_at_seam
from builder.problems import Finding
from builder.program_file.pronounce import of_step
from builder.survey.survey import Survey

CONNECTED_LEVELS = ("phrase", "sentence")
Taught = frozenset[tuple[str, tuple[str, ...]]]
"""Where the target is practiced by now: position and cluster."""


@dataclass
class _Reported:
    """Words by what is amiss with them, each only the first time."""

    seen: set[tuple[str, str]] = field(default_factory=set)

    def new_words(self, rule: str, words: list[str]) -> list[str]:
        new = []
        for word in words:
            if not self.has(rule, word):
                self.seen.add((rule, _without_plural(word)))
                new.append(word)
        return new

    def has(self, rule: str, word: str) -> bool:
        return (rule, _without_plural(word)) in self.seen


def check_untaught(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The target at a place that is not practiced yet, or twice in one word."""
    for program in client.programs:
        reported = _Reported()
        for step in program.steps:
            if step.level in WORD_LEVELS:
                one = of_step(program, step)
                taught = _taught(client, one, step)
                items = [
                    i
                    for i in step.items
                    if any(_taught_occurrences(one, w, taught) for w in i.words)
                ]
                strays = _strays(one, items, taught)
                yield from _carrier(one, step, strays, reported)
                yield from _untaught(one, step, strays, reported)
                yield from _twice(one, step, items, reported)


def _taught(client: Client, program: Program, step: Step) -> Taught:
    steps = list(program.steps[: program.steps.index(step) + 1])
    for other in client.programs:
        if other is not program and other.sound == program.sound:
            steps += other.published_steps
    alone = program.written.position if "word" in program.written.mastered else ()
    own = (None, program.sound)
    return frozenset(
        {(p, s.cluster) for s in steps if s.sound in own for p in s.positions}
        | {(p, ()) for p in alone}
    )


def _is_taught(occurrence: Occurrence, taught: Taught) -> bool:
    return any((p, occurrence.cluster) in taught for p in occurrence.positions)


def _taught_occurrences(program: Program, word: Spoken, taught: Taught) -> list[Occurrence]:
    return [o for o in occurrences(word.phones, program.sound) if _is_taught(o, taught)]


Strays = dict[str, list[Occurrence]]


def _strays(program: Program, items: list[Item], taught: Taught) -> Strays:
    """The words that hold the target where it is not taught, with these places."""
    found = {
        name: [o for o in occurrences(word.phones, program.sound) if not _is_taught(o, taught)]
        for item in items
        for name, word in words_in_sentence_case(item)
    }
    return {word: places for word, places in found.items() if places}


def _carrier_words(step: Step) -> set[str]:
    """Words of a phrase or sentence step that come again with item after item."""
    if step.level not in CONNECTED_LEVELS:
        return set()
    targets = {i.words[i.focus[0]].text.lower() for i in step.items if i.focus}
    counts = Counter(w for i in step.items for w in {w.text.lower() for w in i.words})
    return {word for word, count in counts.items() if count > 1} - targets


def _carrier(
    program: Program, step: Step, strays: Strays, reported: _Reported
) -> Iterator[Finding]:
    """One advice for a carrier, not one for each item that it carries."""
    carried = _carrier_words(step)
    words = reported.new_words("carrier", [word for word in strays if word.lower() in carried])
    reported.new_words("untaught", words)
    if words:
        yield finding(
            program,
            (*step.path, "items"),
            "carrier",
            f"{quoted(words)}, repeated throughout `{step.name}`, {_has(words)} "
            f"/{program.sound.ipa}/ {_where(strays, words)}, where it is not practiced yet.",
            "Choose a carrier phrase without it: the carrier is said in every try.",
        )


def _untaught(
    program: Program, step: Step, strays: Strays, reported: _Reported
) -> Iterator[Finding]:
    words = reported.new_words("untaught", list(strays))
    if words:
        yield finding(
            program,
            step.items[0].path[:-1],
            "untaught",
            f"{quoted(words)} in `{step.name}` {_has(words)} /{program.sound.ipa}/ "
            f"{_where(strays, words)}, where it is not practiced yet.",
            "Keep such words until that position is practiced too, or choose others.",
        )


def _where(strays: Strays, words: list[str]) -> str:
    """Where the target strays: "in medial position and in the final cluster st"."""
    return listed(
        f"in the {o.positions[0]} cluster {cluster_ipa(o.cluster)}"
        if o.cluster
        else f"in {o.positions[0]} position"
        for word in words
        for o in strays[word]
    )


def _twice(
    program: Program, step: Step, items: list[Item], reported: _Reported
) -> Iterator[Finding]:
    """Words with two targets; those of which one is not taught are reported already."""
    found = [w for i in items for w in i.words if len(occurrences(w.phones, program.sound)) > 1]
    new = [w.text for w in found if not reported.has("untaught", w.text)]
    words = reported.new_words("two-targets", new)
    if words:
        yield finding(
            program,
            step.items[0].path[:-1],
            "two-targets",
            f"{quoted(words)} in `{step.name}` {_has(words)} /{program.sound.ipa}/ twice.",
            "Words with one target are easier to say and to judge; keep these for later.",
        )


def check_seams(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The target runs into its neighbor where two words meet: nice sea, back gate."""
    for program in client.programs:
        reported = _Reported()
        for step in program.steps:
            one = of_step(program, step)
            taught = _taught(client, one, step)
            items = step.items if step.level in CONNECTED_LEVELS else ()
            seams = reported.new_words(
                "word-seam", [s for i in items for s in _seams(one, i, taught)]
            )
            if seams:
                yield finding(
                    program,
                    (*step.path, "items"),
                    "word-seam",
                    f"In {quoted(seams)} of `{step.name}` the /{one.sound.ipa}/ runs into the "
                    "sound beside it where the words meet, and cannot be heard by itself.",
                    "Put a word between the two, or choose one that begins or ends differently.",
                )


def _seams(program: Program, item: Item, taught: Taught) -> Iterator[str]:
    for left, right in zip(item.words, item.words[1:], strict=False):
        if not left.phones or not right.phones or _pause(item.text, left.text, right.text):
            continue
        ends = any(o.stop == len(left.phones) for o in _taught_occurrences(program, left, taught))
        begins = any(o.start == 0 for o in _taught_occurrences(program, right, taught))
        lost = lost_at_seam(left.phones[-1], right.phones[0])
        if (ends and lost.last) or (begins and lost.first):
            yield f"{left.text} {right.text}".lower()


def _pause(text: str, left: str, right: str) -> bool:
    """Whether a mark stands between the two words: there the voice rests."""
    return re.search(rf"{re.escape(left)}\s+{re.escape(right)}", text) is None


def _without_plural(word: str) -> str:
    """A word and its plural are one."""
    return word.lower().removesuffix("s")


def _has(words: list[str]) -> str:
    return verb(words, "has", "have")
