"""Every figure that rests on the natural voice's samples. They differ with the version of
onnxruntime, so it is run in an environment of each: DEVELOPERS.md states the spread.

    python -m tests.benchmarks.natural_voice            one line for each figure
    python -m tests.benchmarks.natural_voice --list     and the words and cuts behind them
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from importlib.metadata import version
from platform import machine, python_version

from builder.model.clinic import Speaker
from tests.benchmarks import alignment, long_forms, split, substitutions, voices
from tests.benchmarks.held_words import said

VOICE: Speaker = "natural"


def heard() -> Iterator[str]:
    """How surely the words of the survey are heard, and what they are judged to be."""
    found = said(VOICE)
    verdicts = Counter(voices.assessed(one).verdict for one in found)
    yield f"words surely heard: {sum(one.sure for one in found)} of {len(found)}"
    yield f"words judged: {', '.join(f'{n} {verdict}' for verdict, n in verdicts.most_common())}"


def told_apart() -> Iterator[str]:
    """How many words are doubtful beside their own phones and beside others'."""
    found = alignment.doubtful(VOICE)
    for kind in alignment.KINDS:
        every = [*found[True, kind], *found[False, kind]]
        yield f"doubtful beside {kind} phones: {sum(every)} of {len(every)}"
    seen, of = substitutions.noticed(VOICE)
    wrong, right = substitutions.mistaken(VOICE)
    yield f"another sound noticed: {seen} of {of}; a right one mistaken: {wrong} of {right}"


def held() -> Iterator[str]:
    """How many held sounds keep every measure, by class."""
    outcomes = [long_forms.outcome(case) for case in long_forms.located(long_forms.chosen())]
    for of in long_forms.CLASSES:
        rows = [one for one in outcomes if long_forms.kind(one.case.sound) == of]
        made = [one.found for one in rows if one.found]
        whole = sum(not one.missed for one in made)
        lost = len(rows) - len(made)
        yield f"held {of}: {whole} of {len(rows)} keep every measure, {lost} not held"
    yield from long_forms.failures(outcomes) if "--list" in sys.argv else ()


def cut() -> Iterator[str]:
    """Lists read in one go."""
    found = split.outcomes((VOICE,))
    yield split.HEAD
    yield split.line("lists read in one go", found)
    yield from (note for one in found for note in one.notes) if "--list" in sys.argv else ()


def graded() -> Iterator[str]:
    """Where the table of what voices are would be another."""
    found = list(voices.rows((VOICE,)))
    known = voices.differing(found)
    yield f"suitability: {len(known)} of {sum(row[0] == VOICE for row in found)} rows differ"
    for row in found:
        if row[:4] in known:
            yield f"  {' '.join(row[1:4])}: {row[4]} ({row[5]}); table: {known[row[:4]]}"


def main() -> None:
    """Print all."""
    runtime = version("onnxruntime")
    print(f"onnxruntime {runtime}, Python {python_version()}, {machine()}")
    for part in (heard, told_apart, held, cut, graded):
        print(*part(), sep="\n", flush=True)


if __name__ == "__main__":
    main()
