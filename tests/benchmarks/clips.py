"""How many clips a second one core makes, natural and held, by each voice of this computer, with
measuring and coding; how long a ten-word program with recordings takes.

    python -m tests.benchmarks.clips

Bounds: at least 80 natural and 40 held clips a second by the embedded voice; the program under 5 s
on two cores, and nothing made again by its second build.
"""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import soundfile
import soxr

from builder.audio.voices import natural
from builder.make.clips import _make
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
ROUNDS = 5
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


def rate(clips: list[Clip]) -> float:
    """Clips a second: the median over rounds, each into an empty store."""
    found = []
    for _ in range(ROUNDS):
        with tempfile.TemporaryDirectory() as folder:
            start = time.process_time()
            for each in clips:
                _make(each, folder=Path(folder))
            found.append(len(clips) / (time.process_time() - start))
    return statistics.median(found)


def with_takes(folder: Path) -> tuple[float, float, list[str]]:
    """Seconds of the first and of the second build of a program with a recording of every word,
    and the files of the store that the second one changed. The recordings are the natural voice's
    in files of 44.1 kHz."""
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
    start = time.perf_counter()
    done = subprocess.run(line, check=True, capture_output=True, text=True, cwd=ROOT)
    print(f"<!-- {done.stdout.strip().splitlines()[-1].strip()} -->")
    return time.perf_counter() - start


def main() -> None:
    """Print the rates beside their bounds."""
    voices: tuple[Speaker, ...] = ("embedded", "natural")
    for voice in voices:
        plain = [clip(word, "", "natural", voice) for word in WORDS]
        held = [clip(w, s, "long", voice) for s, words in HELD.items() for w in words.split()]
        rate(plain[:1])  # imports and models are paid once
        for what, clips, bound in (("natural", plain, 80), ("held", held, 40)):
            found = rate(clips)
            verdict = "holds" if found >= bound else "MISSED"
            asked = (f"≥ {bound}", verdict) if voice == "embedded" else ("none set", "")
            print(
                f"| {what} clips, {voice} voice, one core | {found:.0f} a second | "
                f"{asked[0]} | {asked[1]} |"
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
