"""practice-site clips: make the audio of the named clients, print its figures, or draw it."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict
from pathlib import Path

from builder import pipeline
from builder.clips import Facts
from builder.commands.paths import bar, files_of
from builder.plan import Clip
from builder.store import Store, write_whole

HEAD = (
    f"{'client':12} {'text':24} {'form':8} {'s':>6} {'target s':>13} {'mean Hz':>8} {'to kHz':>7} "
    f"{'peak dB':>8} {'loudness':>9} {'sure':>5}  {'voice':10} verdict"
)
Row = tuple[str, Clip, Facts | None]


def run(args: argparse.Namespace) -> int:
    """One line a clip: what, form, seconds, target, spectral mean, band, level, voice, verdict."""
    files = files_of(args)
    workspace = pipeline.workspace_of(files)
    store = Store(workspace.store)
    rows: list[Row] = []
    for checked in pipeline.check(files):
        plan = pipeline.plan_of(checked, workspace)
        with bar() as progress:
            made = pipeline.clips_of(plan, store, progress)
        rows += [(plan.client, clip, made.get(clip.key)) for clip in plan.clips]
    if args.picture:
        _draw(rows, store, Path(args.picture))
    print(_json(rows) if args.json else _table(rows))
    return 0


def _json(rows: list[Row]) -> str:
    found = [
        {"client": c, "text": k.text, "form": k.form, "file": k.path} | (asdict(f) if f else {})
        for c, k, f in rows
    ]
    return json.dumps(found, ensure_ascii=False, indent=1)


def _table(rows: list[Row]) -> str:
    lines = [HEAD]
    for client, clip, facts in rows:
        start = f"{client:12} {_name(clip):24} {clip.form:8} "
        lines.append(start + (_figures(facts) if facts else "no voice is fit: the helper says it"))
    paces = {f.voice: f.pace for _, _, f in rows if f and f.pace}
    lines += [f"Pace of the {voice} voice: {pace}." for voice, pace in sorted(paces.items())]
    return "\n".join(lines)


def _name(clip: Clip) -> str:
    name = f"{clip.text} (alone)" if clip.alone else clip.text
    return name if len(name) <= 24 else name[:23] + "…"


def _figures(facts: Facts) -> str:
    target = "-"
    if facts.start is not None and facts.end is not None:
        target = f"{facts.start:.3f}-{facts.end:.3f}"
    mean = f"{facts.spectral_mean:.0f}" if facts.spectral_mean else "-"
    reach = f"{facts.bandwidth / 1000:.1f}" if facts.bandwidth else "-"
    sure = "-" if facts.score is None else f"{facts.score:.2f}"
    return (
        f"{facts.duration:6.3f} {target:>13} {mean:>8} {reach:>7} {facts.peak:8.1f} "
        f"{facts.loudness:9.1f} {sure:>5}  {facts.voice:10} {_verdict(facts)}"
    )


def _verdict(facts: Facts) -> str:
    reasons = [f"{rule} {figure}".strip() for rule, _, figure in facts.remarks]
    verdict = facts.word + (f" ({', '.join(reasons)})" if facts.word != "good" else "")
    return verdict + (f"; instead of the voice asked: {facts.instead}" if facts.instead else "")


def _draw(rows: list[Row], store: Store, folder: Path) -> None:
    """Waveform and spectrogram of every clip, its target marked, as PNG files."""
    from builder.audio.decode import decoded
    from builder.audio.picture import png

    folder.mkdir(parents=True, exist_ok=True)
    for _, clip, facts in rows:
        if facts is None:
            continue
        samples, rate = decoded(str(store.path(clip.key, ".mp3")))
        known = facts.start is not None and facts.end is not None
        target = (round((facts.start or 0) * rate), round((facts.end or 0) * rate))
        name = Path(clip.path).with_suffix(".png").name
        write_whole(folder / name, png(samples, rate, target if known else None))
