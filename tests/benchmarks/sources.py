"""How far the three sources agree on where ten sounds stand in the 5,000 commonest words, with and
without the table of allophones; and the index: seconds, memory, a query.

    python -m tests.benchmarks.sources            the table
    python -m tests.benchmarks.sources --list     and every disagreement, to be read
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

from builder.phonetics.inventory import Sound, bare, sounds
from builder.phonetics.lexicon import build_index, dictionary, letter_to_sound, tagged_dictionary
from builder.phonetics.lexicon.allophones import Phones, broad, phones_of
from builder.phonetics.lexicon.index import Index
from builder.phonetics.lexicon.readings import CMUDICT, LETTER_TO_SOUND, TAGGED, entry
from builder.phonetics.position import occurrences, stands

WORDS = 5000
SOUNDS = ("S", "Z", "SH", "CH", "TH", "K", "T", "R", "L", "ER")
PAIRS = tuple(combinations((CMUDICT, TAGGED, LETTER_TO_SOUND), 2))
Forms = dict[str, tuple[Phones, ...]]


def commonest() -> list[str]:
    """The commonest words that are pronounced by both lexicons."""
    zipf = build_index.frequencies()
    listed = {key.lower() for part in tagged_dictionary.load() for key in part}
    both = [word for word in zipf if word in listed and word in dictionary.load()]
    return sorted(both, key=lambda word: (-zipf[word], word))[:WORDS]


def forms(word: str, allophones: bool) -> Forms:
    """What each source says; plainly, or in one alphabet."""
    (ipa,) = letter_to_sound.transcribe((word,))
    read = tuple(
        phones_of(TAGGED, word, one, allophones) for _, one in tagged_dictionary.readings(word)
    )
    ruled = (phones_of(LETTER_TO_SOUND, word, ipa, allophones),)
    said = dict(entry(word).said) if allophones else {CMUDICT: dictionary.pronunciations(word)}
    return {CMUDICT: said[CMUDICT], TAGGED: read, LETTER_TO_SOUND: ruled}


def places(phones: Phones, sound: Sound, allophones: bool) -> tuple[object, ...]:
    """Where the sound stands; without the table, in the phones as they are."""
    if allophones:
        return tuple((o.positions, o.cluster) for o in occurrences(broad(phones), sound))
    known = tuple(phone for phone in phones if bare(phone) in sounds())
    return tuple((o.positions, o.cluster) for o in occurrences(known, sound))


def agree(one: tuple[Phones, ...], other: tuple[Phones, ...], sound: Sound, all_: bool) -> bool:
    """Whether a reading of one source has the sound where a reading of the other has it."""
    here = {places(phones, sound, all_) for phones in one}
    return bool(here & {places(phones, sound, all_) for phones in other})


def lines(words: list[str], listed: bool) -> Iterator[str]:
    """A row for every sound: of the words that hold it by any source, the share that agree."""
    tables = {all_: [(word, forms(word, all_)) for word in words] for all_ in (False, True)}
    yield "sound  words " + "".join(f"{a}/{b}".rjust(26) for a, b in PAIRS)
    for symbol in SOUNDS:
        sound = sounds()[symbol]
        cells, count, odd = [], 0, []
        for pair in PAIRS:
            shares = []
            for all_, table in tables.items():
                held = [(w, f) for w, f in table if _holds(f, pair, sound, all_)]
                same = [w for w, f in held if agree(f[pair[0]], f[pair[1]], sound, all_)]
                shares.append(100 * len(same) / len(held))
                count = len(held)
                if all_:
                    odd.append((pair, sorted({w for w, _ in held} - set(same))))
            cells.append(f"{shares[0]:.1f} % -> {shares[1]:.1f} %".rjust(26))
        yield f"{symbol:5} {count:6} " + "".join(cells)
        for (a, b), different in odd if listed else ():
            yield f"    {a}/{b}: {' '.join(different)}"


def _holds(forms: Forms, pair: tuple[str, str], sound: Sound, all_: bool) -> bool:
    return any(places(p, sound, all_) for source in pair for p in forms[source])


def index_figures() -> Iterator[str]:
    """In a process of its own: seconds to make, memory, and a fresh one's query."""
    with tempfile.TemporaryDirectory() as folder:
        for name in ("made", "fresh"):
            command = [sys.executable, "-m", "tests.benchmarks.sources", "--index", folder]
            done = subprocess.run(command, capture_output=True, text=True, check=True)
            yield f"index {name}: {done.stdout.strip()}"


def _index(folder: Path) -> None:
    start = time.perf_counter()
    index = Index.open(folder)
    opened = time.perf_counter()
    found = sum(bool(stands(row.phones, sounds()["S"], "initial")) for row in index.all())
    asked = time.perf_counter()
    memory = _peak()
    print(
        f"{opened - start:.2f} s, {found} words with initial s in {asked - opened:.2f} s, "
        f"{memory} MB"
    )


def _peak() -> int:
    """MB; on Linux of this process alone, whatever started it."""
    status = Path("/proc/self/status")
    if status.is_file():
        lines = dict(line.split(":", 1) for line in status.read_text().splitlines())
        return int(lines["VmHWM"].split()[0]) // 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def main() -> None:
    """Print all tables."""
    for line in lines(commonest(), "--list" in sys.argv):
        print(line)
    for line in index_figures():
        print(line)


if __name__ == "__main__":
    if "--index" in sys.argv:
        _index(Path(sys.argv[-1]))
    else:
        main()
