"""How near the aligner comes to borders that are known, and how surely it tells words apart.

    python -m tests.benchmarks.alignment            both tables
    python -m tests.benchmarks.alignment --list     and every border that is off by more than 40 ms

Borders: the embedded voice says where the target lies: 200 words, three speakers. Three of five
words were looked at while the aligner was made ("seen"); the rest was not. Where a stop or a
fricative lies the engine reports itself ("reported"). In the rest of the sounds the reference is a
border that the voice looks for on the spectrum, and a convention for l and r, which are one gesture
with the vowel beside them.

Words: the same words by the embedded voice and by the natural one, aligned with their own phones,
with those of another word of the table, and with those of a common word that differs in one phone.
The share of each that is doubtful.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from builder.audio.align.forced import DOUBTFUL_SCORE, align, locate
from builder.audio.speech import Speech
from builder.audio.voices import embedded, natural
from builder.phonetics.inventory import bare
from builder.phonetics.lexicon.build_index import frequencies
from builder.phonetics.lexicon.dictionary import load, pronunciations

COMMONEST = 12000  # words among which one that differs in one phone is looked for
REPORTED = ("S", "Z", "F", "SH", "TH", "K")
KINDS = ("right", "other", "near")  # with whose phones a word is aligned
MEDIAN_MS, PERCENTILE_95_MS = 15.0, 40.0  # ms; bounds of the median and of the 95th percentile
SPEAKERS = {"plain 120": ("", 120), "belinda 100": ("belinda", 100), "m3 160": ("m3", 160)}
# Initial, medial, final, in a cluster: five of each.
TABLE = {
    "S": "seal city sun soap sand / missing icy faucet dresser lasso / "
    "bus house mouse dress lace / spoon star ski basket nest",
    "Z": "zoo zebra zip zero zone / music lazy daisy dizzy closet / "
    "nose cheese buzz rose maze / clothes birds beads wisdom boxes",
    "F": "fish fan food fork feet / coffee sofa muffin taffy waffle / "
    "leaf knife roof laugh beef / flag frog sniff gift soft",
    "SH": "shoe sheep ship shell shower / washing ocean machine bushes cushion / "
    "fish brush wash dish leash / shrimp shred shrink marsh washed",
    "TH": "thumb thin think thirty thief / bathtub nothing author healthy python / "
    "bath mouth tooth moth path / three throw month north thread",
    "M": "moon mouse mop milk mitten / lemon hammer camel tummy woman / "
    "ham lamb drum comb name / smile smoke jump lamp farm",
    "N": "nose night nine net nut / honey bunny tennis pony dinner / "
    "pan moon sun bone train / snow snake hand pond tent",
    "L": "leaf lamp lion lake log / yellow balloon jelly salad pillow / "
    "ball bell whale seal pool / clock plate slide belt milk",
    "K": "cow key cup cake kite / bacon pocket turkey locker sneaker / "
    "book duck sock rake bike / clown cry skate mask desk",
    "R": "red rain ring rock rabbit / carrot berry arrow cherry story / "
    "car door bear ear four / train green bread corn heart",
}


Phones = tuple[str, ...]


@dataclass(frozen=True)
class Word:
    """A word with its target: the first of that sound, in a final place the last."""

    text: str
    sound: str
    phones: tuple[str, ...]
    at: int
    seen: bool


@dataclass(frozen=True)
class Miss:
    """How far both borders of a target are off (ms; late is positive); nan when not found."""

    word: Word
    speaker: str
    start: float
    stop: float


def words() -> Iterator[Word]:
    """All 200."""
    for sound, places in TABLE.items():
        for part, place in enumerate(places.split("/")):
            for number, text in enumerate(place.split()):
                phones = pronunciations(text)[0]
                found = [at for at, phone in enumerate(phones) if bare(phone) == sound]
                yield Word(text, sound, phones, found[-1 if part == 2 else 0], number % 2 == 0)


def said(word: Word, speaker: str) -> Speech:
    """The word by the embedded voice."""
    variant, pace = SPEAKERS[speaker]
    focus = (0, word.at, word.at + 1)
    return embedded.speak((word.phones,), focus, word.text, pace=pace, variant=variant)


def miss(word: Word, speaker: str) -> Miss:
    """Where the aligner finds the target, beside where it is."""
    speech = said(word, speaker)
    found = locate(speech.samples, speech.rate, (word.phones,), (0, word.at, word.at + 1))
    if found is None or speech.target is None:
        return Miss(word, speaker, float("nan"), float("nan"))
    off = (np.array(found.target) - np.array(speech.target)) / speech.rate * 1000
    return Miss(word, speaker, float(off[0]), float(off[1]))


def row(name: str, misses: Iterable[Miss]) -> tuple[str, bool]:
    """A line of the table, and whether it keeps the bounds."""
    both = np.abs([(m.start, m.stop) for m in misses])
    lost = int(np.isnan(both[:, 0]).sum())
    both = both[~np.isnan(both[:, 0])]
    middle, most = np.median(both, axis=0), np.percentile(both, 95, axis=0)
    figures = " ".join(f"{m:6.1f} {p:6.1f} " for m, p in zip(middle, most, strict=True))
    kept = lost == 0 and bool(np.all(middle <= MEDIAN_MS) and np.all(most <= PERCENTILE_95_MS))
    return f"{name:12} {len(both) + lost:4} {lost:4}  {figures} {'' if kept else 'FAILS'}", kept


def borders(listed: bool) -> None:
    """Print the first table."""
    misses = [miss(word, speaker) for word in words() for speaker in SPEAKERS]
    print("target (ms)     n lost  start: median, 95th; stop: median, 95th")
    rows = [row(name, [m for m in misses if take(m)]) for name, take in _cuts()]
    print("\n".join(line for line, _ in rows))
    failing = [line.split("  ")[0].strip() for line, kept in rows if not kept]
    print(f"fails: {', '.join(failing) or 'nothing'}")
    for m in misses if listed else ():
        if not max(abs(m.start), abs(m.stop)) <= PERCENTILE_95_MS:
            print(
                f"  {m.word.text:10} {m.word.sound:3} {m.speaker:10} {m.start:6.0f} {m.stop:6.0f}"
            )


def _cuts() -> Iterator[tuple[str, Callable[[Miss], bool]]]:
    yield from ((s, lambda m, s=s: m.word.sound == s) for s in TABLE)
    yield from ((s, lambda m, s=s: m.speaker == s) for s in SPEAKERS)
    yield "reported", lambda m: m.word.sound in REPORTED
    yield "seen", lambda m: m.word.seen
    yield "not seen", lambda m: not m.word.seen
    yield "all", lambda m: True


def doubts() -> None:
    """Print the second table."""
    print("doubtful (%)         n   right  another word  one phone else")
    for voice in ("embedded", "natural"):
        found = doubtful(voice)
        for seen in (True, False):
            shares = [100 * np.mean(found[seen, kind]) for kind in KINDS]
            name = f"{voice}, {'' if seen else 'not '}seen"
            figures = f"{shares[0]:7.1f} {shares[1]:13.1f} {shares[2]:15.1f}"
            print(f"{name:18} {len(found[seen, 'right']):3} {figures}")


def doubtful(voice: str) -> dict[tuple[bool, str], list[bool]]:
    """Of each word by the voice whether it is doubtful, by (seen, with whose phones)."""
    every, near, chance = list(words()), _neighbours(), random.Random(1)
    found: dict[tuple[bool, str], list[bool]] = {}
    for number, word in enumerate(every):
        speech = _by(voice, word, list(SPEAKERS)[number % 3])
        for kind, phones in _rivals(word, every, near, chance):
            result = align(speech.samples, speech.rate, (phones,))
            low = result is None or result.score < DOUBTFUL_SCORE
            found.setdefault((word.seen, kind), []).append(low)
    return found


def _by(voice: str, word: Word, speaker: str) -> Speech:
    return said(word, speaker) if voice == "embedded" else natural.speak((word.phones,), word.text)


def _rivals(
    word: Word, every: list[Word], near: dict[Phones, list[Phones]], chance: random.Random
) -> Iterator[tuple[str, Phones]]:
    yield "right", word.phones
    yield "other", chance.choice([w for w in every if w.text != word.text]).phones
    own = _plain(word.phones)
    alike = [p for hole in _holes(own) for p in near.get(hole, ()) if p != own]
    if alike:
        yield "near", chance.choice(alike)


def _neighbours() -> dict[Phones, list[Phones]]:
    """Common words without stress, by their phones with each one taken out in turn."""
    zipf = frequencies()
    common = [word for word in zipf if word in load()]
    found: dict[Phones, list[Phones]] = {}
    for word in sorted(common, key=lambda w: (-zipf[w], w))[:COMMONEST]:
        phones = _plain(pronunciations(word)[0])
        for hole in _holes(phones):
            found.setdefault(hole, []).append(phones)
    return found


def _plain(phones: Phones) -> Phones:
    return tuple(bare(phone) for phone in phones)


def _holes(phones: Phones) -> Iterator[Phones]:
    yield from ((*phones[:at], "", *phones[at + 1 :]) for at in range(len(phones)))


def main() -> None:
    """Print the tables."""
    borders("--list" in sys.argv)
    doubts()


if __name__ == "__main__":
    main()
