"""practice-site where: where a sound stands in words, by how they are read, on whose word."""

from __future__ import annotations

import argparse
import json
import sys
from typing import Any

from builder.commands import options
from builder.phonetics.inventory import Sound, UnknownSoundError, ipa_of, parse_sound
from builder.phonetics.lexicon.readings import Entry, Reading, agreed, entry
from builder.phonetics.position import Occurrence, cluster_ipa, occurrences, variant
from builder.phonetics.spelling import fits, target_letters
from builder.phonetics.syllables import syllable_counts, syllables
from builder.problems import UsageError

MARKS = '.,;:!?()"“”…'
DISAGREE_NOTE = "the sources disagree: listen first"
GUESS_NOTE = "not in any dictionary: a guess by spelling rules"
USE_NAMES = {"vbd": "past", "vbn": "past", "vbp": "past", "adj": "adjective", "adv": "adverb"}

ABOUT = "say where a sound is in words, and which letters spell it"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `where`."""
    parser.add_argument("sound", metavar="SOUND", help=options.SOUND)
    parser.add_argument("words", nargs="+", metavar="WORD", help="as in scissors")
    options.as_json(parser)


def run(args: argparse.Namespace) -> int:
    """Exit code 2 when a text is no word, else 0."""
    try:
        sound = parse_sound(args.sound)
    except UnknownSoundError as question:
        raise UsageError(f"{question}.") from None
    found = [entry(_bare(word)) for text in args.words for word in text.split()]
    if args.json:
        print(json.dumps([_record(e, sound) for e in found], ensure_ascii=False, indent=1))
        return 0
    for one in found:
        if one.readings:
            print("\n".join(_lines(one, sound)))
        else:
            print(
                f"practice-site: `{one.word}` cannot be read as a word. Write it in letters.",
                file=sys.stderr,
            )
    return 0 if all(one.readings for one in found) else 2


def _bare(word: str) -> str:
    """Without the marks of a sentence around it: "bus." is `bus`."""
    return word.strip(MARKS) or word


def _record(one: Entry, sound: Sound) -> dict[str, Any]:
    return {
        "word": one.word,
        "pronunciations": [_pronunciation(one.word, r, sound) for r in one.readings],
        "agreed": bool(one.readings) and agreed(one, sound),
        "heteronym": one.heteronym,
        "guessed": one.guessed,
    }


def _pronunciation(word: str, reading: Reading, sound: Sound) -> dict[str, Any]:
    """`positions` has one for every occurrence, left to right; `cluster` is that of the first one
    that stands in a cluster; `places` tells all of it for each occurrence, and as which variant it
    is said ("flap", "dark l", or "")."""
    found = occurrences(reading.phones, sound)
    clusters = [cluster_ipa(o.cluster) for o in found]
    return {
        "ipa": ipa_of(reading.phones),
        "source": ", ".join(reading.sources),
        "positions": [p for o in found for p in _told(o)],
        "cluster": next(filter(None, clusters), ""),
        "syllables": len(syllables(reading.phones)),
        "use": _use(reading),
        "spelled": _letters(word, reading, found),
        "places": [
            {
                "positions": _told(o),
                "cluster": cluster,
                "variant": variant(reading.phones, o, sound),
            }
            for o, cluster in zip(found, clusters, strict=True)
        ],
    }


def _told(occurrence: Occurrence) -> list[str]:
    return list(occurrence.positions)


def _use(reading: Reading) -> str:
    return USE_NAMES.get(reading.use, reading.use)


def _lines(one: Entry, sound: Sound) -> list[str]:
    """The best-founded reading; the others only where they differ about the sound or in meaning."""
    best, *others = one.readings
    shown = [best, *(r for r in others if _differs(r, best, one, sound))]
    # Readings that differ in stress alone look alike here.
    lines = list(dict.fromkeys(_line(one.word, reading, sound) for reading in shown))
    notes = [
        *(["can be read in several ways: say which one you mean"] if one.heteronym else []),
        *([GUESS_NOTE] if one.guessed else []),
        *([DISAGREE_NOTE] if not agreed(one, sound) else []),
    ]
    return [*lines, *(f"    {note}" for note in notes)]


def _differs(reading: Reading, best: Reading, one: Entry, sound: Sound) -> bool:
    here, there = (
        [(o.positions, o.cluster) for o in occurrences(r.phones, sound)] for r in (reading, best)
    )
    return here != there or (one.heteronym and bool(reading.use or best.use))


def _line(word: str, reading: Reading, sound: Sound) -> str:
    found = occurrences(reading.phones, sound)
    places = [_place(reading.phones, o, sound) for o in found] or [f"no /{sound.ipa}/"]
    counts = syllable_counts(reading.phones)
    use = f" ({_use(reading)})" if reading.use else ""
    return (
        f"{_letters(word, reading, found)}{use}  /{_ipa(reading, found)}/  {', '.join(places)}; "
        f"{' or '.join(map(str, counts))} syllable{'' if counts == (1,) else 's'}; "
        f"{', '.join(reading.sources)}"
    )


def _place(phones: tuple[str, ...], occurrence: Occurrence, sound: Sound) -> str:
    """As in "initial in sp" or "medial (flap)"."""
    place = " and ".join(_told(occurrence))
    group = f" in {cluster_ipa(occurrence.cluster)}" if occurrence.cluster else ""
    name = variant(phones, occurrence, sound)
    return f"{place}{group} ({name})" if name else place + group


def _letters(word: str, reading: Reading, found: tuple[Occurrence, ...]) -> str:
    """The word, in brackets the letters that spell the sound; none that no spelling explains."""
    if not fits(word, reading.phones):
        return word
    marked = [False] * len(word)
    for one in found:
        at = 0
        for text, on in target_letters(word, reading.phones, one.start, one.stop):
            marked[at : at + len(text)] = [on or m for m in marked[at : at + len(text)]]
            at += len(text)
    return _bracketed(list(word), marked)


def _ipa(reading: Reading, found: tuple[Occurrence, ...]) -> str:
    inside = {at for one in found for at in range(one.start, one.stop)}
    signs = [ipa_of((phone,)) for phone in reading.phones]
    return _bracketed(signs, [at in inside for at in range(len(signs))])


def _bracketed(parts: list[str], marked: list[bool]) -> str:
    text, inside = "", False
    for part, on in zip(parts, marked, strict=True):
        text += ("[" if on and not inside else "]" if inside and not on else "") + part
        inside = on
    return text + ("]" if inside else "")
