"""A clinic's folder on the disk, with one program."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.support.places import ROOT

PROGRAM = """\
program: 1
client: finch-10
age: 7
reads: yes
sound: k
mastered: {syllable: 2026-11-02}
baseline: {date: 2026-12-03, correct: 18, of: 20}
current: words
practice: {from: 2026-12-07, visit: 2026-12-14}
words: [key, cow, cup, comb, coin]
steps:
  - {name: words, level: word, rounds: [{support: imitation, times: 6}]}
  - {name: two words, level: phrase, items: [my key]}
"""


def clinic(space: Path, program: str = PROGRAM) -> Path:
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
