"""practice-site print: the handout of each client and the codes as pictures, for the front desk."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from builder import pipeline
from builder.commands import options
from builder.commands.paths import files_of, sound_of, tell_left
from builder.problems import UsageError
from builder.workspace.store import Store, write_whole

ABOUT = "make the handout with the code and the week's checklist"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `print`."""
    options.programs(parser)
    options.out(parser)
    options.base_url(parser)
    options.to(parser, "sheets")


def run(args: argparse.Namespace) -> int:
    """Write one PDF and the codes of each client; dated sheets never into the published folder."""
    from builder.make import pictures, qr, sheets

    folder, out = Path(args.to), Path(args.out)
    if folder.resolve().is_relative_to(out.resolve()):
        raise UsageError(f"{folder}: sheets have dates on them, so they must not go into {out}.")
    workspace = pipeline.workspace_of(files_of(args))
    store = Store(workspace.store)
    everyone, left = sound_of(args, args.base_url)
    for checked in everyone:
        plan = pipeline.plan_of(checked, workspace, out)
        shown = {p.key: pictures.make(p, store) for p in plan.pictures}
        target = folder / plan.client
        target.mkdir(parents=True, exist_ok=True)
        today = date.today().isoformat()
        sheet = sheets.handout(plan, shown, store, dated=True, printed=today)
        write_whole(target / "handout.pdf", sheet)
        print(target / "handout.pdf")
        for code in pipeline.codes_of(plan):
            for file in qr.make(code, store):
                write_whole(target / f"{Path(code.path).name}{file.suffix}", file.read_bytes())
        if not plan.code:
            print("    without a code: the clinic file gives no `base_url`")
    return tell_left(left)
