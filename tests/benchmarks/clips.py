"""What clips cost beside a bare run of the same voice and coder in the same process, natural and
held, by each voice of this computer; how long a ten-word program with recordings takes.

    python -m tests.benchmarks.clips

Bare: the voice says the words, and the coder codes the clip's finished samples; full: from the
planned clip to its file in the store. Both take turns, and processor time counts, so that what else
runs on the machine changes little. Bounds: the full way makes at least 0.6 (natural form) and 0.45
(held) of the clips that the bare one makes by the embedded voice; by the natural one, whose target
has to be found first, 0.35; the program under 5 s of processor time, and nothing made again by its
second build.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple

import numpy as np
import soundfile
import soxr

from builder.audio import voices
from builder.audio.io.encode import mp3
from builder.audio.render import render
from builder.audio.voices import natural
from builder.make.clips import _make, _render
from builder.make.cores import overlapped
from builder.model.clinic import Speaker
from builder.model.plan import Clip
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.workspace.store import key_of
from tests.benchmarks.build import TEN
from tests.support.places import EXAMPLES, ROOT

WORDS = [
    "bus",
    "bush",
    "cheese",
    "coffee",
    "fish",
    "fishing",
    "goose",
    "house",
    "leaf",
    "messy",
    "moon",
    "nose",
    "shell",
    "shoe",
    "yes",
]
HELD = {"S": "bus goose house messy yes", "SH": "bush fish fishing shell shoe", "M": "moon messy"}
ROUNDS = 7
BOUNDS = {
    ("embedded", "natural"): 0.6,
    ("embedded", "held"): 0.45,
    ("natural", "natural"): 0.35,
    ("natural", "held"): 0.35,
}
TAKES = ["shell", "ship", "sheep", "shark", "shoe", "shirt", "shovel", "shower", "shore", "shadow"]


def clip(word: str, symbol: str, form: str, voice: Speaker = "embedded") -> Clip:
    """A clip as the plan would hold it, its target the first `symbol` ("" for none)."""
    phones = pronunciations(word)[0]
    at = phones.index(symbol) if symbol else 0
    key = key_of(word=word, symbol=symbol, form=form, voice=voice)
    focus = (0, at, at + 1)
    return Clip(
        key=key,
        path="",
        text=word,
        words=(phones,),
        focus=focus,
        form="long" if form == "long" else "natural",
        alone=False,
        hold=1.5,
        voice=voice,
    )


class Cost(NamedTuple):
    """Milliseconds of processor time a clip, medians. thread: of the first thread while a second
    one codes; ratio: of the two next to each other."""

    bare: float
    full: float
    thread: float
    ratio: float


def cost(clips: list[Clip], voice: Speaker) -> Cost:
    """What clips cost, bare and in full by turns, each time into an empty store."""
    made = [(each, render(each)) for each in clips]  # imports and models are paid before
    say = voices.voice(voice).say

    def bare() -> None:
        for each, clip_made in made:
            say(each)
            mp3(clip_made.levelled.samples, clip_made.rate)

    rounds = [(_timed(bare), *_full(clips)) for _ in range(ROUNDS)]
    bare_ms, full_ms, thread_ms = (
        1000 * statistics.median(each) / len(clips) for each in zip(*rounds, strict=True)
    )
    ratio = statistics.median(each[0] / each[1] for each in rounds)
    return Cost(bare_ms, full_ms, thread_ms, ratio)


def _timed(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def _full(clips: list[Clip]) -> tuple[float, float]:
    """Seconds of the whole process in one thread; of the first of two threads."""
    with tempfile.TemporaryDirectory() as folder:
        alone = _timed(lambda: [_make(each, folder=Path(folder)) for each in clips])
    with tempfile.TemporaryDirectory() as folder:
        start = time.thread_time()
        list(overlapped(clips, partial(_render, folder=Path(folder))))
        return alone, time.thread_time() - start


def with_takes(folder: Path) -> tuple[float, float, list[str]]:
    """Seconds of processor time of the first and of the second build of a program with a recording
    of every word, and the files of the store that the second one changed. The recordings are the
    natural voice's in files of 44.1 kHz."""
    shutil.copy(ROOT / "mkdocs.yml", folder)
    programs = folder / "programs"
    (programs / "takes").mkdir(parents=True)
    shutil.copy(EXAMPLES / "clinic.yaml", programs)
    file = programs / "finch-10.yaml"
    file.write_text(TEN.format(number=10))
    for word in TAKES:
        said = natural.speak((pronunciations(word)[0],), word)
        samples = soxr.resample(said.samples, said.rate, 44100)
        noise = 1e-4 * np.random.default_rng(3).standard_normal(len(samples))
        soundfile.write(programs / "takes" / f"{word}.wav", samples + noise, 44100)
    first = _built(file, folder)
    before = {f: f.stat().st_mtime_ns for f in (folder / ".practice/store").rglob("*.*")}
    (folder / ".practice/stamps.json").unlink()  # so that the build looks at everything again
    second = _built(file, folder)
    after = {f: f.stat().st_mtime_ns for f in (folder / ".practice/store").rglob("*.*")}
    return first, second, [f.name for f, made in after.items() if before.get(f) != made]


def _built(file: Path, folder: Path) -> float:
    line = [sys.executable, "-m", "builder", "build", str(file), "--out", str(folder / "public")]
    start = os.times()
    done = subprocess.run(line, check=True, capture_output=True, text=True, cwd=ROOT)
    print(f"<!-- {done.stdout.strip().splitlines()[-1].strip()} -->")
    end = os.times()
    return end.children_user + end.children_system - start.children_user - start.children_system


def main() -> None:
    """Print the costs beside their bounds."""
    speakers: tuple[Speaker, ...] = ("embedded", "natural")
    for voice in speakers:
        plain = [clip(word, "", "natural", voice) for word in WORDS]
        held = [clip(w, s, "long", voice) for s, words in HELD.items() for w in words.split()]
        for what, clips in (("natural", plain), ("held", held)):
            found, bound = cost(clips, voice), BOUNDS[voice, what]
            verdict = "holds" if found.ratio >= bound else "MISSED"
            print(
                f"| {what} clips, {voice} voice | {found.full:.1f} ms, bare {found.bare:.1f} ms = "
                f"{found.ratio:.2f}; {found.thread:.1f} ms while another thread codes | "
                f"≥ {bound} | {verdict} |"
            )
    with tempfile.TemporaryDirectory() as folder:
        first, second, again = with_takes(Path(folder))
    verdict = "holds" if first < 5 and not again else "MISSED"
    print(
        f"| a ten-word program with recordings | {first:.1f} s, again {second:.1f} s with "
        f"{len(again)} files made anew | < 5 s, none | {verdict} |"
    )


if __name__ == "__main__":
    main()
