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
    for name, data in schema_files().items():
        write_whole(folder / name, data)
        print(folder / name)
    return 0


def schema_files() -> dict[str, bytes]:
    """Both schemas as files, by name."""
    schemas = {"program": program_schema(), "clinic": clinic_schema()}
    texts = {name: json.dumps(one, ensure_ascii=False, indent=1) for name, one in schemas.items()}
    return {f"{name}.schema.json": f"{text}\n".encode() for name, text in texts.items()}
