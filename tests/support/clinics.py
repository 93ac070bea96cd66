"""A clinic's folder on the disk, with one program."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.support.places import ROOT


def clinic(space: Path, program: str) -> Path:
    """The folder of programs under `space`: the clinic file, and `program` as finch-10.yaml."""
    shutil.copy(ROOT / "mkdocs.yml", space)
    folder = space / "programs"
    folder.mkdir()
    (folder / "clinic.yaml").write_text(
        "clinic: 1\ncontact: {clinic: Test Clinic, phone: 555-0100}\n"
        "base_url: https://practice.example.org\n"
    )
    (folder / "finch-10.yaml").write_text(program)
    return folder
