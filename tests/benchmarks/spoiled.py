"""What is said of good takes, and of the same takes spoiled, a line for each spoiling.

    python -m tests.benchmarks.spoiled            the table of each group of speakers, and what is
                                                  said of good words of every consonant and place
    python -m tests.benchmarks.spoiled --list     and every spoiled take that passes as good

Bounds: of each spoiling at least CAUGHT_SHARE are not good; of good takes none is refused and at
most DOUBTED_SHARE are doubtful.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from builder.audio.assess.assess import assess_samples
from builder.audio.assess.quality import Quality
from tests.benchmarks.voice_survey import asked
from tests.support.good_takes import SEEN, UNSEEN, in_speech_room, others, people, spoken
from tests.support.spoiled import ANY, BRIGHT, DULL, SIBILANTS, Recorded, spliced

CAUGHT_SHARE, DOUBTED_SHARE = 0.9, 0.05
NEED_BAND = ("S", "Z", "SH", "F", "TH", "CH", "JH")
DONORS = 5  # other sounds that are spliced into each take
CLEAN, SPLICED = "nothing done to it", "another sound spliced in"


def takes(group: str) -> tuple[Recorded, ...]:
    """The good takes of a group of speakers."""
    if group == "people":
        return tuple(people())
    return tuple(spoken(group, SEEN if group in ("natural", "plain") else UNSEEN))


def spoilings(take: Recorded, everything: Iterable[Recorded]) -> Iterator[tuple[str, Recorded]]:
    """The take and each way in which it is spoiled."""
    yield CLEAN, take
    for name, spoil in ANY.items():
        yield name, spoil(take)
    for name, spoil in BRIGHT.items() if take.sound.symbol in NEED_BAND else ():
        yield name, spoil(take)
    for name, spoil in DULL.items() if take.sound.symbol in SIBILANTS else ():
        yield name, spoil(take)
    for other in [*others(take, everything)][:DONORS]:
        yield SPLICED, spliced(take, other)


def judged(take: Recorded) -> Quality:
    """As a recording of the clinic is judged."""
    found, _ = assess_samples(
        take.samples, take.rate, take.words, take.focus, take.sound, form="natural", alone=False
    )
    return found


def outcomes(everything: tuple[Recorded, ...]) -> Iterator[tuple[str, Recorded, Quality]]:
    """Each spoiling, the take it was made of, and what is said of it."""
    for take in everything:
        for name, spoiled in spoilings(take, everything):
            yield name, take, judged(spoiled)


def table(group: str) -> Iterator[str]:
    """A line for each spoiling: refused, doubtful, good of so many; and those that pass."""
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    notes: dict[str, list[str]] = defaultdict(list)
    for name, take, found in outcomes(takes(group)):
        counts[name][found.verdict] += 1
        if (found.verdict == "good") is not (name == CLEAN):
            reasons = " ".join(f"{i.rule}({i.figure})" for i in found.issues)
            notes[name].append(f"      {take.name} {reasons}")
    yield f"{group:37} refused doubtful good   of"
    for name, found_ in counts.items():
        of = found_.total()
        row = "".join(f"{found_[verdict]:8}" for verdict in ("again", "doubtful", "good"))
        yield f"  {name:35}{row}{of:5}  {_held(name, found_)}"
        yield from notes[name] if "--list" in sys.argv else ()


def words() -> Iterator[Recorded]:
    """The natural voice's words of the survey, in a room: every consonant and place."""
    for at, one in enumerate(asked()):
        if one.sound.kind == "consonant":
            yield in_speech_room(one.phones, one.focus, one.sound, one.word, at)


def of_words() -> Iterator[str]:
    """A line, and those that are not good."""
    found = [(take, judged(take)) for take in words()]
    counts = Counter(quality.verdict for _, quality in found)
    yield f"{len(found)} good words of the survey: " + ", ".join(
        f"{number} {verdict}" for verdict, number in counts.most_common()
    )
    for take, quality in found if "--list" in sys.argv else ():
        if quality.verdict != "good":
            yield f"      {take.name} {' '.join(f'{i.rule}({i.figure})' for i in quality.issues)}"


def _held(name: str, found: Counter[str]) -> str:
    if name == CLEAN:
        fine = not found["again"] and found["doubtful"] <= DOUBTED_SHARE * found.total()
    else:
        fine = found["good"] <= (1 - CAUGHT_SHARE) * found.total()
    return "holds" if fine else "MISSED"


def main() -> None:
    """Print the table of each group."""
    groups = [word for word in sys.argv[1:] if not word.startswith("-")]
    for group in groups or ("people", "natural", "plain", "belinda", "m3"):
        print(*table(group), sep="\n", flush=True)
    if not groups:
        print(*of_words(), sep="\n")


if __name__ == "__main__":
    main()
