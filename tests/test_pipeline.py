from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
import soundfile
from PIL import Image

from tests.support.clinics import clinic
from tests.support.degraded import recorded
from tests.support.places import ROOT

PROGRAM = """\
program: 1
client: finch-10
age: 7
reads: yes
sound: k
mastered: {syllable: 2026-11-02}
current: words
practice: {from: 2026-12-07, visit: 2026-12-14}
words: [key, cow, cup, comb, coin]
steps:
  - {name: words, level: word, rounds: [natural imitation]}
"""
SECRET = "0123456789abcdef" * 4


def published(space: Path, hash_seed: str) -> dict[str, bytes]:
    """Every file of a site built in a workspace at `space`, from the same clinic's data."""
    space.mkdir(parents=True)
    folder = clinic(space, PROGRAM)
    (space / ".practice").mkdir()
    (space / ".practice" / "secret").write_text(SECRET)
    (folder / "finch-10").mkdir()
    Image.linear_gradient("L").save(folder / "finch-10" / "cow.png")
    (folder / "takes").mkdir()
    key = recorded("key", "K")
    soundfile.write(folder / "takes" / "key.wav", key.samples, key.rate)
    command = [sys.executable, "-m", "builder", "build", str(folder / "finch-10.yaml")]
    environment = os.environ | {"PYTHONHASHSEED": hash_seed, "PYTHONPATH": str(ROOT)}
    subprocess.run(command, cwd=space, env=environment, check=True, capture_output=True)
    out = space / "public"
    files = (file for file in out.rglob("*") if file.is_file())
    return {str(file.relative_to(out)): file.read_bytes() for file in files}


@pytest.mark.slow
def test_the_same_data_give_the_same_bytes_wherever_they_lie(tmp_path: Path) -> None:
    """No path, no moment and no order of a set gets into what is published."""
    one = published(tmp_path / "one", hash_seed="1")
    other = published(tmp_path / "deeper" / "in another folder", hash_seed="2")
    assert one.keys() == other.keys()
    assert [name for name, data in one.items() if data != other[name]] == []
    about = next(data for name, data in one.items() if name.endswith("/about/index.html"))
    assert b"real voices" in about, "the recording is used"
    assert [name for name in one if "/pictures/" in name and not name.endswith(".svg")]
