"""practice-site schema: the JSON Schemas of the program file and the clinic file."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from builder.commands import options
from builder.problems import UsageError
from builder.program_file.json_schema import clinic_schema, program_schema
from builder.workspace.store import write_whole

ABOUT = "write the JSON Schemas by which an editor helps"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `schema`."""
    options.to(parser, "programs")


def run(args: argparse.Namespace) -> int:
    """Write program.schema.json and clinic.schema.json."""
    folder = Path(args.to)
    if not folder.is_dir():
        raise UsageError(f"{folder}: there is no such folder.")
    for name, schema in (("program", program_schema()), ("clinic", clinic_schema())):
        text = json.dumps(schema, ensure_ascii=False, indent=1) + "\n"
        write_whole(folder / f"{name}.schema.json", text.encode())
        print(folder / f"{name}.schema.json")
    return 0
