"""practice-site pictures: which words lack a picture, the most needed first, and all others on one
local page."""

from __future__ import annotations

import argparse
import sys
import webbrowser
from pathlib import Path

from builder import pipeline
from builder.commands import options
from builder.commands.paths import clients_of, files_of, tell_left
from builder.model.picture_need import PictureNeed
from builder.planning.list_pictures import picture_needs
from builder.survey.collect import survey

ABOUT = "list the words without a picture; show all others on one local page"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `pictures`."""
    options.programs(parser)
    options.to(parser, "proof")
    options.quiet(parser)


def run(args: argparse.Namespace) -> int:
    """Print a line for each word without a picture, then where the page is."""
    workspace = pipeline.workspace_of(files_of(args.files))
    loaded, unread = clients_of(args)
    needs = picture_needs((client, survey(client)) for client in loaded)
    bare = [need for need in needs if need.picture is None]
    made = pipeline.pictures_page(needs, workspace, Path(args.to)) / "index.html"
    print(
        "\n".join([*_lines(bare), f"{len(needs) - len(bare)} words with one, to look at: {made}"])
    )
    if sys.stdout.isatty() and not args.quiet:
        webbrowser.open(made.resolve().as_uri())
    return tell_left(unread)


def _lines(bare: list[PictureNeed]) -> list[str]:
    if not bare:
        return ["Every word has a picture."]
    wide = max(len(need.word) for need in bare)
    lines = [f"Words without a picture: {len(bare)}, the most needed first"]
    for need in bare:
        whose = ", ".join(
            one.client + ("" if one.reads else " (does not read)") + ("" if one.now else " later")
            for one in need.needs
        )
        lines.append(f"    {need.word.ljust(wide)}  {whose}")
    return lines
