"""How well a list read in one go is cut up: a table of readings with slips.

    python -m tests.benchmarks.split            the table
    python -m tests.benchmarks.split --list     and every cut that is doubtful or wrong

Wrong is a cut that is sure and does not hold its item, all of it and nothing else. The thresholds
were chosen on seeds below 100; those from 100 on were not looked at.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import process_time

from builder.audio.split.split import Cut, split
from tests.support.read_lists import LIST, PAIRS, RATE, ListRecording, phones, read, slips, swapped

SPEAKERS = ("natural", "", "f3", "m3", "f2", "m7", "f4", "m1")
FAST_PAUSE_S, SLOW_PAUSE_S = (0.22, 0.28), (4.0, 5.0)  # seconds between items
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


def main(first_seed: int = 100) -> None:
    """Print a line for each kind of reading."""
    print(
        f"{'reading':28} {'said':>5} {'sure':>5} {'doubtful':>8} {'missed':>6} {'wrong':>5}  s/min"
    )
    for name, (reading, items, pause) in READINGS.items():
        counts, seconds, minutes, notes = [0] * 5, 0.0, 0.0, []
        for at, speaker in enumerate(SPEAKERS):
            recording = reading(ListRecording(first_seed + at, speaker, pause), items)
            samples, start = recording.samples(), process_time()
            cuts = split(samples, RATE, [phones(item) for item in items]).cuts
            seconds, minutes = seconds + process_time() - start, minutes + len(samples) / RATE / 60
            found = _counted(recording, items, cuts)
            counts = [one + more for one, more in zip(counts, found, strict=True)]
            notes += [_note(speaker, recording, items, cut) for cut in cuts]
        said, sure, doubtful, missed, wrong = counts
        print(
            f"{name:28} {said:5} {sure:5} {doubtful:8} {missed:6} {wrong:5}  "
            f"{seconds / minutes:4.1f} {'' if not wrong else 'FAILS'}"
        )
        if "--list" in sys.argv:
            print("\n".join(filter(None, notes)))


def _counted(recording: ListRecording, items: list[str], cuts: tuple[Cut, ...]) -> list[int]:
    said = {text for text, *_ in recording.said}
    sure = [cut for cut in cuts if cut.sure]
    missed = said - {items[cut.item] for cut in cuts}
    wrong = sum(not recording.holds(items[cut.item], cut.span) for cut in sure)
    return [len(said), len(sure), len(cuts) - len(sure), len(missed), wrong]


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
