"""practice-site clips: make the audio of the named clients and print its figures."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict

from builder import pipeline
from builder.commands.paths import bar, files_of
from builder.plan import Clip
from builder.store import Store


def run(args: argparse.Namespace) -> int:
    """One line a clip: what, form, seconds, target, spectral mean, peak, loudness, voice."""
    files = files_of(args)
    workspace = pipeline.workspace_of(files)
    rows = []
    for checked in pipeline.check(files):
        plan = pipeline.plan_of(checked, workspace)
        with bar() as progress:
            made = pipeline.clips_of(plan, Store(workspace.store), progress)
        rows += [(plan.client, clip, made[clip.key]) for clip in plan.clips]
    if args.json:
        found = [{"client": c, "text": k.text, "form": k.form, "file": k.path, **asdict(f)}
                 for c, k, f in rows]  # fmt: skip
        print(json.dumps(found, ensure_ascii=False, indent=1))
        return 0
    print(f"{'client':12} {'text':24} {'form':8} {'s':>6} {'target s':>13} {'mean Hz':>8} "
          f"{'peak dB':>8} {'loudness':>9}  voice")  # fmt: skip
    for client, clip, fact in rows:
        print(f"{client:12} {_name(clip):24} {clip.form:8} {_figures(fact)}")
    return 0


def _name(clip: Clip) -> str:
    name = f"{clip.text} (alone)" if clip.alone else clip.text
    return name if len(name) <= 24 else name[:23] + "…"


def _figures(fact: object) -> str:
    facts = vars(fact)
    target = "-"
    if facts["start"] is not None and facts["end"] is not None:
        target = f"{facts['start']:.3f}-{facts['end']:.3f}"
    mean = f"{facts['spectral_mean']:.0f}" if facts["spectral_mean"] else "-"
    return (
        f"{facts['duration']:6.3f} {target:>13} {mean:>8} {facts['peak']:8.1f} "
        f"{facts['loudness']:9.1f}  {facts['voice']}"
    )
