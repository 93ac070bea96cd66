"""practice-site split: a recording of the whole list, read in one go, becomes one take an item."""

from __future__ import annotations

import argparse
import json
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from builder.commands import options
from builder.commands.paths import files_of
from builder.model.program import Client
from builder.problems import UsageError
from builder.program_file.load import clients
from builder.recordings.file_names import free_name
from builder.recordings.prompts import Prompt, prompts
from builder.recordings.takes import (
    AUDIO_ENDINGS,
    DOUBTFUL_FOLDER,
    UNHEARD_FOLDER,
    store_doubt,
)
from builder.workspace.folder import find
from builder.workspace.store import Store, digest_of, move_new

if TYPE_CHECKING:
    from builder.audio.speech import Samples
    from builder.audio.split.split import Cut, Split

State = Literal["kept", "doubtful", "not found"]
STRAYS_JOINED_WITHIN_S = 0.6  # seconds between two stretches that are told as one
HOW_TO_READ = (
    "Read this list aloud in one go, with a second of silence after each item. A slip? Say the "
    "item again: the "
    "last one counts."
)
SOUND_ALONE_NOTE = (
    "A sound by itself is not cut out of a long recording; use `practice-site record` for it."
)


@dataclass(frozen=True)
class Line:
    """An item and what was found of it. file: where it goes, relative to the takes."""

    prompt: Prompt
    state: State
    cut: Cut | None
    why: str
    file: str


ABOUT = "cut a recording of the whole list into single recordings"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `split`."""
    options.program(parser)
    parser.add_argument(
        "recording",
        nargs="?",
        default="",
        metavar="RECORDING",
        help="the list, read in one go: up to 30 minutes",
    )
    parser.add_argument("--list", action="store_true", help="print what to read, and no more")
    parser.add_argument("--all", action="store_true", help="with the steps that are to come")
    parser.add_argument(
        "--dry-run", action="store_true", help="say what would be cut, and write nothing"
    )
    options.as_json(parser)


def run(args: argparse.Namespace) -> int:
    """Cut, write, and tell of every item where it was found, and how surely."""
    if Path(args.file).suffix.lower() in AUDIO_ENDINGS:
        raise UsageError(f"{args.file}: name the client first, then the recording.")
    file = files_of([args.file])[0]  # all of a client's are read
    client, asked = _asked(file, args.all)
    if args.list:
        _print_list(client, asked)
        return 0
    if not args.recording:
        raise UsageError(f"{file}: name the recording too, or add `--list` to see what to read.")
    from builder.audio.io.decode import LONGEST_SESSION_S, decode
    from builder.audio.split.split import split

    samples, rate = decode(args.recording, LONGEST_SESSION_S)
    found = split(samples, rate, [prompt.utterance.words for prompt in asked])
    _refuse(found, file, args.recording)
    workspace, takes = find(file), Path(client.folder) / client.clinic.takes
    if args.dry_run:
        lines = _lines(found, asked, takes)
    else:
        lines = _written(found, asked, takes, partial(_wav, samples, rate))
        _keep_doubts(Store(workspace.store), takes, lines)
    print(_json(lines, found, rate) if args.json else _told(args, takes, lines, found, rate))
    return 0


def _asked(file: Path, every: bool) -> tuple[Client, tuple[Prompt, ...]]:
    """The client, and the natural forms of what is practiced now and was before, or of all."""
    (client,) = clients([file])
    found = (p for p in prompts([client]) if p.form == "natural" and not p.utterance.alone)
    asked = tuple(prompt for prompt in found if every or prompt.current)
    if not asked:
        more = "" if every else " Add `--all` for the steps to come."
        raise UsageError(f"{file}: it has nothing to read aloud.{more}")
    return client, asked


def _print_list(client: Client, asked: tuple[Prompt, ...]) -> None:
    print(HOW_TO_READ)
    if any(p.utterance.alone for p in prompts([client])):
        print(SOUND_ALONE_NOTE)
    print()
    print("\n".join(p.text + (f"   /{p.ipa}/" if p.ipa else "") for p in asked))


def _refuse(found: Split, file: Path, recording: str) -> None:
    if not found.cuts and not found.strays:
        raise UsageError(f"{recording}: no speech found in this recording.")
    if not found.cuts:
        raise UsageError(
            f"{recording}: nothing in it matches the list of {file}. Is it the right program? "
            f"`practice-site split {file} --list` prints what should be read."
        )


def _lines(found: Split, asked: tuple[Prompt, ...], takes: Path) -> tuple[Line, ...]:
    cuts = {cut.item: cut for cut in found.cuts}
    stems = {prompt.stem for prompt in asked}
    lines = []
    for at, prompt in enumerate(asked):
        cut = cuts.get(at)
        if cut is None:
            lines.append(Line(prompt, "not found", None, "", ""))
            continue
        folder = _folder_of(cut)
        why = f"it may be '{asked[cut.other].text}'" if cut.other >= 0 else cut.doubt
        name = free_name(takes / folder, prompt.stem, stems)
        state: State = "kept" if cut.sure else "doubtful"
        lines.append(Line(prompt, state, cut, why, f"{folder}/{name}.wav"))
    return tuple(lines)


def _folder_of(cut: Cut) -> str:
    return UNHEARD_FOLDER if cut.sure else DOUBTFUL_FOLDER


def _wav(samples: Samples, rate: int, line: Line) -> bytes:
    from builder.audio.io.wav import wav

    return wav(samples[slice(*line.cut.span)], rate) if line.cut else b""


def _written(
    found: Split, asked: tuple[Prompt, ...], takes: Path, data_of: Callable[[Line], bytes]
) -> tuple[Line, ...]:
    """The lines with their files in place; other names when one was taken meanwhile."""
    for folder in {_folder_of(cut) for cut in found.cuts}:
        (takes / folder).mkdir(parents=True, exist_ok=True)
    while True:
        lines = _lines(found, asked, takes)
        with suppress(FileExistsError):
            _write(takes, {line.file: data_of(line) for line in lines if line.cut})
            return lines


def _write(takes: Path, files: dict[str, bytes]) -> None:
    """All files or none: made beside their place, then moved. FileExistsError: a name is taken."""
    with _aside(takes) as aside:
        for name, data in files.items():
            (aside / name.replace("/", "+")).write_bytes(data)
        moved: list[Path] = []
        try:
            for name in files:
                move_new(aside / name.replace("/", "+"), takes / name)
                moved.append(takes / name)
        except BaseException:
            for file in moved:
                file.unlink()
            raise


def _keep_doubts(store: Store, takes: Path, lines: tuple[Line, ...]) -> None:
    """For the proof."""
    for line in lines:
        if line.state == "doubtful":
            store_doubt(store, digest_of(takes / line.file), line.why)


@contextmanager
def _aside(takes: Path) -> Iterator[Path]:
    folder = Path(tempfile.mkdtemp(prefix=".split-", dir=takes))
    try:
        yield folder
    finally:
        shutil.rmtree(folder)


def _told(
    args: argparse.Namespace, takes: Path, lines: tuple[Line, ...], found: Split, rate: int
) -> str:
    wide = max(len(line.prompt.text) for line in lines)
    told = [_line(line, rate, wide) for line in lines]
    told += [
        f"{_clock(start)} {stop - start:5.1f} s        not on the list: a cough or a comment?"
        for start, stop in _strays(found, rate)
    ]
    return "\n".join([*told, "", *_next(args, takes, lines)])


def _line(line: Line, rate: int, wide: int) -> str:
    cut, text = line.cut, line.prompt.text.ljust(wide)
    if cut is None:
        return f"{'-':>7} {'-':>5}      -  {text}  not found"
    start, stop = (at / rate for at in cut.spoken)
    often = f"; said {cut.times} times, the last one counts" if cut.times > 1 else ""
    why = f": {line.why}" if line.why else ""
    place = f"{_clock(start)} {stop - start:5.1f} s {cut.score:.2f}"
    return f"{place}  {text}  {line.state}{why}{often}"


def _next(args: argparse.Namespace, takes: Path, lines: tuple[Line, ...]) -> Iterator[str]:
    number = {s: sum(line.state == s for line in lines) for s in ("kept", "doubtful", "not found")}
    counts = ", ".join(f"{count} {state}" for state, count in number.items())
    if args.dry_run:
        yield f"{counts}. Nothing was written: leave out `--dry-run` to cut."
        return
    yield f"{counts}."
    if 2 * number["not found"] > len(lines):
        yield "Most of the list was not found: is this the right program, and the whole recording?"
    if number["kept"]:
        yield (
            f"Kept: {takes / UNHEARD_FOLDER}. Hear them once: `practice-site proof {args.file}`. "
            "Then say "
            f"that you did: `practice-site proof {args.file} --heard`"
        )
    if number["doubtful"]:
        stem = next(Path(line.file).stem for line in lines if line.state == "doubtful")
        yield (
            f"Doubtful: {takes / DOUBTFUL_FOLDER}. The proof plays them too: `practice-site proof "
            f"{args.file}`. Then name what is right: `--heard --right {stem}`"
        )
    if number["not found"] or number["doubtful"]:
        yield f"Record single items again: `practice-site record {args.file}`"


def _strays(found: Split, rate: int) -> list[tuple[float, float]]:
    """What belongs to no item, in seconds; what is near each other is one."""
    told: list[tuple[float, float]] = []
    for first, past in found.strays:
        start, stop = first / rate, past / rate
        if told and start - told[-1][1] < STRAYS_JOINED_WITHIN_S:
            told[-1] = (told[-1][0], stop)
        else:
            told.append((start, stop))
    return told


def _clock(seconds: float) -> str:
    tenths = int(10 * seconds)
    return f"{tenths // 600:3}:{tenths % 600 / 10:04.1f}"


def _json(lines: tuple[Line, ...], found: Split, rate: int) -> str:
    items = [_facts(line, rate) for line in lines]
    strays = [
        {"start": round(start, 2), "seconds": round(stop - start, 2)}
        for start, stop in _strays(found, rate)
    ]
    return json.dumps({"items": items, "strays": strays}, ensure_ascii=False, indent=1)


def _facts(line: Line, rate: int) -> dict[str, object]:
    facts: dict[str, object] = {
        "name": line.prompt.stem,
        "text": line.prompt.text,
        "state": line.state,
    }
    if line.cut is None:
        return facts
    start, stop = (at / rate for at in line.cut.spoken)
    return facts | {
        "start": round(start, 2),
        "seconds": round(stop - start, 2),
        "score": round(line.cut.score, 2),
        "why": line.why,
        "times": line.cut.times,
        "file": line.file,
    }
