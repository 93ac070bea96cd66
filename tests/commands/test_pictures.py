"""The words without a picture, and the page of all others."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import Image

from builder.__main__ import main
from tests.support.clinics import clinic

PROGRAM = """\
program: 1
client: finch-10
reads: no
sound: k
position: initial
current: words
words: [key, kiln, cone]
steps:
  - {name: words, level: word}
  - {name: two words, level: phrase, items: [my key, a keel]}
"""


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return clinic(tmp_path, PROGRAM)


def test_what_lacks_a_picture_is_listed_and_the_rest_is_shown(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (programs / "pictures").mkdir()
    Image.new("RGB", (40, 40), "red").save(programs / "pictures" / "Cone.PNG")
    (programs / "wren-11.yaml").write_text("client: wren-11\n")
    assert main(["pictures", "--quiet"]) == 1
    said = capsys.readouterr()
    assert said.out.splitlines() == [
        "Words without a picture: 2, the most needed first",
        "    kiln  finch-10 (does not read)",
        "    keel  finch-10 (does not read) later",
        f"2 words with one, to look at: {Path('proof/pictures/index.html')}",
    ]
    assert "wren-11.yaml" in said.err
    page = Path("proof/pictures/index.html")
    shown = re.findall(r'<img src="([^"]+)"', page.read_text("utf-8"))
    assert len(shown) == 2
    assert all((page.parent / one).is_file() for one in shown)
    assert "OpenMoji" in page.read_text("utf-8")


def test_a_page_of_somebody_else_is_not_replaced(programs: Path) -> None:
    own = Path("proof/pictures/holiday.jpg")
    own.parent.mkdir(parents=True)
    own.write_bytes(b"mine")
    assert main(["pictures", "--quiet"]) == 2
    assert own.read_bytes() == b"mine"
