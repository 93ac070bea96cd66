"""practice-site clips: make the audio of the named clients, print its figures, or draw it."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from builder import pipeline
from builder.audio.voices import VOICES
from builder.audio.voices.suitability import SoundForm
from builder.commands import options, stand_in
from builder.commands.paths import bar, files_of, sound_of, tell_left
from builder.make.clips import Facts
from builder.model.plan import Clip, Plan
from builder.model.program import Client
from builder.planning.plan_clips import heard
from builder.program_file.pronounce import of_step
from builder.recordings.takes import Take
from builder.site.unsaid import unfit
from builder.workspace.store import Store, write_whole

HEAD = (
    f"{'client':12} {'text':24} {'form':8} {'s':>6} {'target s':>13} {'mean Hz':>8} {'to kHz':>7} "
    f"{'peak dB':>8} {'loudness':>9} {'sure':>5}  {'voice':10} verdict"
)
LEGEND = (
    "target: where the practiced sound lies; mean: of its spectrum; to kHz: how high it reaches; "
    "peak in dBTP, loudness in LUFS; sure: how clearly these words were recognized, 0 to 1."
)


@dataclass(frozen=True)
class Row:
    """One clip of the table; a recording is judged as it was when it came, with the word that was
    said. error: it is said as the client says it. alone: no helper is there to say it. why: the
    voice that the program asks for is not asked for this one."""

    client: str
    clip: Clip
    facts: Facts | None
    error: bool
    alone: bool
    why: str = ""


ABOUT = "make the audio and print its figures"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `clips`."""
    options.programs(parser)
    options.as_json(parser)
    parser.add_argument(
        "--picture", metavar="DIR", help="draw each clip there: waveform and spectrogram"
    )


def run(args: argparse.Namespace) -> int:
    """One line a clip: what, form, seconds, target, spectral mean, band, level, voice, verdict."""
    workspace = pipeline.workspace_of(files_of(args.files))
    store = Store(workspace.store)
    rows: list[Row] = []
    everyone, left = sound_of(args)
    stand_in.tell(checked.client for checked in everyone)
    for checked in everyone:
        with bar() as progress:
            plan, made = pipeline.spoken_plan(checked, workspace, progress)
        rows += _rows(checked, plan, made)
    if args.picture:
        _draw(rows, store, Path(args.picture))
    print(_json(rows) if args.json else _table(rows))
    return tell_left(left)


def _rows(checked: pipeline.Checked, plan: Plan, made: dict[str, Facts]) -> list[Row]:
    every = [take for takes in checked.survey.takes.values() for take in takes]
    takes = {take.path: take for take in (*every, *checked.survey.wrong.values())}
    errors = {wrong.key for program in plan.programs for _, _, wrong in program.wrong}
    alone = checked.client.practises_alone
    shown = (heard(clip, made) or clip for clip in plan.clips)
    whys = dict(_whys(checked.client, plan))
    return [
        Row(
            plan.client,
            c,
            _judged(made.get(c.key), takes.get(c.take)),
            c.key in errors,
            alone,
            whys.get(c.key, ""),
        )
        for c in shown
    ]


def _whys(client: Client, plan: Plan) -> Iterator[tuple[str, str]]:
    """By the key of a clip: why the table leaves it to another voice than the program's."""
    for program, planned in zip(client.programs, plan.programs, strict=True):
        clips: list[tuple[Clip | None, SoundForm, str, str]]
        clips = [(planned.alone, "alone", program.sound.symbol, "")]
        for step, shown in zip(program.published_steps, planned.steps, strict=True):
            symbol = of_step(program, step).sound.symbol
            for item in shown.said:
                clips.append((item.natural, "natural", symbol, item.position))
                clips.append((item.long, "long", symbol, item.position))
        for clip, form, symbol, position in clips:
            if clip and clip.voice not in (program.voice, "recorded"):
                yield clip.key, unfit(program.voice, symbol, form, position)


def _judged(facts: Facts | None, take: Take | None) -> Facts | None:
    if not facts or not take:
        return facts
    issues = tuple((r.rule, r.sentence, r.figure) for r in take.issues)
    return replace(facts, verdict="good" if take.verdict == "good" else "doubtful", issues=issues)


def _json(rows: list[Row]) -> str:
    return json.dumps([_facts(row) for row in rows], ensure_ascii=False, indent=1)


def _facts(row: Row) -> dict[str, object]:
    clip, facts = row.clip, asdict(row.facts) if row.facts else {}
    named = {"client": row.client, "text": clip.text, "form": clip.form, "error": row.error}
    return named | {"file": clip.path} | facts


def _table(rows: list[Row]) -> str:
    lines = [HEAD]
    for row in rows:
        start = f"{row.client:12} {_name(row):24} {row.clip.form:8} "
        lines.append(start + (_figures(row.facts, row.why) if row.facts else _unsaid(row)))
    paces = {row.facts.voice: row.facts.pace for row in rows if row.facts and row.facts.pace}
    lines += [f"Pace of the {VOICES[v].called}: {pace}." for v, pace in sorted(paces.items())]
    return "\n".join([*lines, LEGEND])


def _unsaid(row: Row) -> str:
    return "no voice says it well enough" + ("" if row.alone else ": the helper does")


def _name(row: Row) -> str:
    what = " (alone)" if row.clip.alone else " (the error)" if row.error else ""
    name = row.clip.text + what
    return name if len(name) <= 24 else name[:23] + "…"


def _figures(facts: Facts, why: str) -> str:
    target = "-"
    if facts.start is not None and facts.end is not None:
        target = f"{facts.start:.3f}-{facts.end:.3f}"
    mean = f"{facts.spectral_mean:.0f}" if facts.spectral_mean else "-"
    reach = f"{facts.bandwidth / 1000:.1f}" if facts.bandwidth else "-"
    sure = "-" if facts.score is None else f"{facts.score:.2f}"
    return (
        f"{facts.duration:6.3f} {target:>13} {mean:>8} {reach:>7} {facts.peak:8.1f} "
        f"{facts.loudness:9.1f} {sure:>5}  {facts.voice:10} {_verdict(facts, why)}"
    )


def _verdict(facts: Facts, why: str) -> str:
    reasons = [f"{rule} {figure}".strip() for rule, _, figure in facts.issues]
    verdict = facts.verdict + (f" ({', '.join(reasons)})" if facts.verdict != "good" else "")
    why = facts.instead or why
    return verdict + (f"; replaces the voice you asked for: {why}" if why else "")


def _draw(rows: list[Row], store: Store, folder: Path) -> None:
    """Waveform and spectrogram of every clip, its target marked, as PNG files."""
    from builder.audio.io.decode import decode
    from builder.audio.io.spectrogram import spectrogram_png

    folder.mkdir(parents=True, exist_ok=True)
    for clip, facts in ((row.clip, row.facts) for row in rows):
        if facts is None:
            continue
        samples, rate = decode(str(store.path(clip.key, ".mp3")))
        known = facts.start is not None and facts.end is not None
        target = (round((facts.start or 0) * rate), round((facts.end or 0) * rate))
        name = Path(clip.path).with_suffix(".png").name
        write_whole(folder / name, spectrogram_png(samples, rate, target if known else None))
