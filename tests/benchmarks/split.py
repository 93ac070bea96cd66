"""How well a list read in one go is cut up: a table of readings with slips.

    python -m tests.benchmarks.split            the table
    python -m tests.benchmarks.split --list     and every cut that is doubtful or wrong

Wrong is a cut that is sure and does not hold its item, all of it and nothing else. The thresholds
were chosen on seeds below 100; those from 100 on were not looked at. The natural voice's rows hang
on the version of onnxruntime (tests/benchmarks/natural_voice.py).
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from time import process_time

from builder.audio.split.split import Cut, split
from tests.support.read_lists import LIST, PAIRS, RATE, ListRecording, phones, read, slips, swapped

SPEAKERS = ("natural", "", "f3", "m3", "f2", "m7", "f4", "m1")
FIRST_SEEDS = (100, 200)  # of the first speaker; the next one has the next seed
FAST_PAUSE_S, SLOW_PAUSE_S = (0.22, 0.28), (4.0, 5.0)  # seconds between items
HEAD = f"{'':28}  said  sure  share doubtful missed wrong  s/min"
Reading = Callable[[ListRecording, list[str]], ListRecording]
READINGS: dict[str, tuple[Reading, list[str], tuple[float, float]]] = {
    "slips": (slips, LIST, (0.6, 1.2)),
    "slips, minimal pairs": (slips, PAIRS, (0.6, 1.2)),
    "slips, both": (slips, LIST + [word for word in PAIRS if word not in LIST], (0.3, 0.8)),
    "minimal pairs": (read, PAIRS, (0.6, 1.2)),
    "two swapped": (swapped, LIST, (0.6, 1.2)),
    "two swapped, minimal pairs": (swapped, PAIRS, (0.6, 1.2)),
    "0.25 s between items": (read, LIST, FAST_PAUSE_S),
    "5 s between items": (read, LIST[::2], SLOW_PAUSE_S),
    "some without a pause": (read, LIST, (0.04, 0.9)),
}


@dataclass(frozen=True)
class Outcome:
    """What became of one reading: items said, cuts that are sure, doubtful, missed and wrong; the
    seconds of work, the minutes of recording, and a line for each cut to be looked at."""

    reading: str
    speaker: str
    counts: tuple[int, ...]
    seconds: float
    minutes: float
    notes: tuple[str, ...]


def outcomes(speakers: tuple[str, ...] = SPEAKERS) -> list[Outcome]:
    """Every kind of reading by these speakers, with all seeds."""
    return [
        _outcome(name, speaker, first + SPEAKERS.index(speaker))
        for name in READINGS
        for first in FIRST_SEEDS
        for speaker in speakers
    ]


def _outcome(name: str, speaker: str, seed: int) -> Outcome:
    reading, items, pause = READINGS[name]
    recording = reading(ListRecording(seed, speaker, pause), items)
    samples, start = recording.samples(), process_time()
    cuts = split(samples, RATE, [phones(item) for item in items]).cuts
    seconds, minutes = process_time() - start, len(samples) / RATE / 60
    notes = (_note(speaker, recording, items, cut) for cut in cuts)
    counts = counted(recording, items, cuts)
    return Outcome(name, speaker, counts, seconds, minutes, tuple(filter(None, notes)))


def line(name: str, found: list[Outcome]) -> str:
    """A row of a table. The share is of what was said: in cuts that are sure and hold it."""
    said, sure, doubtful, missed, wrong = map(sum, zip(*(one.counts for one in found), strict=True))
    pace = sum(one.seconds for one in found) / sum(one.minutes for one in found)
    return (
        f"{name:28} {said:5} {sure:5} {(sure - wrong) / said:6.1%} {doubtful:8} {missed:6} "
        f"{wrong:5}  {pace:5.1f} {'FAILS' if wrong else ''}"
    )


def main() -> None:
    """Print a line for each kind of reading and for each speaker."""
    print(HEAD)
    every = outcomes()
    for name in READINGS:
        rows = [one for one in every if one.reading == name]
        print(line(name, rows))
        if "--list" in sys.argv:
            print(*(note for one in rows for note in one.notes), sep="\n")
    for speaker in SPEAKERS:
        print(line(speaker or "embedded", [one for one in every if one.speaker == speaker]))
    print(line("all", every))


def counted(recording: ListRecording, items: list[str], cuts: tuple[Cut, ...]) -> tuple[int, ...]:
    """Items said, cuts that are sure, doubtful, missed and wrong."""
    said = {text for text, *_ in recording.said}
    sure = [cut for cut in cuts if cut.sure]
    missed = said - {items[cut.item] for cut in cuts}
    wrong = sum(not recording.holds(items[cut.item], cut.span) for cut in sure)
    return len(said), len(sure), len(cuts) - len(sure), len(missed), wrong


def _note(speaker: str, recording: ListRecording, items: list[str], cut: Cut) -> str:
    """A line about a cut that is doubtful or wrong, "" for a good one."""
    held = recording.holds(items[cut.item], cut.span)
    if cut.sure and held:
        return ""
    why = f"or {items[cut.other]}" if cut.other >= 0 else cut.doubt or "WRONG"
    place = f"{cut.span[0] / RATE:6.2f}-{cut.span[1] / RATE:6.2f}"
    return f"  {speaker:8} {place} {items[cut.item]:20} {'holds it' if held else 'not it':8} {why}"


if __name__ == "__main__":
    main()
