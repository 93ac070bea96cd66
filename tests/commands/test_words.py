"""practice-site words, as a therapist types it."""

from __future__ import annotations

import csv
import io
import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml

from builder.__main__ import main
from builder.phonetics.lexicon.index import Index
from builder.wordbank import unsuitable
from builder.wordbank.ranking import LESS_KNOWN
from tests.support.places import EXAMPLES, ROOT
from tests.support.wordbank_index import Few, many

pytestmark = pytest.mark.slow


@pytest.fixture(autouse=True)
def clinic(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A practice folder with one program, as the current folder; the index is made of few words."""
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    shutil.copytree(EXAMPLES, tmp_path / "programs")
    monkeypatch.chdir(tmp_path)

    def opened(folder: Path, _before_making: Callable[[], None]) -> Few:
        assert folder == tmp_path / ".practice" / "index"
        return many()

    monkeypatch.setattr(Index, "open", opened)
    return tmp_path


def said(capsys: pytest.CaptureFixture[str], *line: str) -> str:
    assert main(["words", *line]) == 0
    return capsys.readouterr().out


def listed(capsys: pytest.CaptureFixture[str], *line: str) -> list[str]:
    return [row["word"] for row in json.loads(said(capsys, *line, "--json"))]


def test_the_table(capsys: pytest.CaptureFixture[str]) -> None:
    out = said(capsys, "k", "--count", "3")
    assert out.startswith("/k/ initial, alone: the first 3 of ")
    row = next(line.split() for line in out.splitlines() if line.startswith("  key "))
    assert row == ["key", "ki", "1", "1", "5.1", "yes"]


def test_json_csv_and_yaml_tell_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    words = listed(capsys, "k", "--count", "4")
    rows = list(csv.DictReader(io.StringIO(said(capsys, "k", "--count", "4", "--csv"))))
    pasted = yaml.safe_load(said(capsys, "k", "--count", "4", "--yaml"))
    assert len(words) == 4
    assert [row["word"] for row in rows] == words
    assert pasted == {"words": words}


def test_that_the_index_is_made_is_told_beside_the_output(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def made(_folder: Path, before_making: Callable[[], None]) -> Few:
        before_making()
        return many()

    monkeypatch.setattr(Index, "open", made)
    assert main(["words", "k", "--json"]) == 0
    told = capsys.readouterr()
    assert json.loads(told.out)
    assert told.err.startswith("Reading the lists of words, once")
    assert told.err.count("\n") == 1


def test_a_vowel_with_r_at_its_usual_positions(capsys: pytest.CaptureFixture[str]) -> None:
    """Final before medial; without another vowel with r; lacking r leaves those with r alone."""
    told = yaml.safe_load(said(capsys, "air", "--count", "40", "--yaml"))["words"]
    same = said(capsys, "air", "--position", "final,medial", "--lacks", "r", "--count", "40")
    assert list(told) == ["final", "medial"]
    assert {"bear", "hair"} <= set(told["final"])
    assert "/ɛɹ/ final" in same
    assert " bear " in same
    assert " rare " not in same
    assert "mirror" not in listed(capsys, "ear", "--position", "medial", "--count", "99")
    assert "mirror" in listed(capsys, "ear", "--position", "medial", "--has", "er", "--count", "99")


def test_fire_is_an_ire_and_no_er(capsys: pytest.CaptureFixture[str]) -> None:
    wide = ("--position", "final", "--wide", "--count", "1000")
    assert {"wire"} <= set(listed(capsys, "ire", *wide))
    assert not {"fire", "wire", "hire", "tire"} & set(listed(capsys, "er", *wide))
    assert "wire" in listed(capsys, "ire", "--position", "final", "--syllables", "1")


def test_a_position_that_is_none(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", "k", "--position", "middle"]) == 2
    assert "`middle` is not a position" in capsys.readouterr().err


def test_several_positions_give_a_list_each(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "f", "--position", "initial", "final", "--count", "60", "--yaml")
    lists = yaml.safe_load(text)["words"]
    assert set(lists) == {"initial", "final"}
    assert all(isinstance(word, str) for word in lists["final"]), "'off' is no truth value"
    assert "off" in lists["final"]


def test_for_a_program(capsys: pytest.CaptureFixture[str]) -> None:
    words = listed(capsys, "--for", "programs/heron-07.yaml", "--count", "40")
    taken = {"key", "cow", "cup", "comb", "coin", "corn", "candle", "camel"}
    assert taken.isdisjoint(words)
    assert "cat" not in words[:30], "its t is what the client says for k"
    assert "cat" in listed(capsys, "k", "--count", "40")


def test_words_of_all_programs_of_the_client_are_taken(
    clinic: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    usual = listed(capsys, "--for", "programs/heron-07.yaml", "--count", "1000")
    probes = listed(capsys, "--for", "programs/heron-07.yaml", "--probe", "3")
    first = (clinic / "programs/heron-07.yaml").read_text().replace("sound: k", "sound: s")
    further = first.replace("[key, cow, cup, ", f"[{usual[0]}, {probes[0]}, soap, ").replace(
        "baseline: {", "baseline: fill-in #"
    )
    (clinic / "programs/heron-07-s.yaml").write_text(further)
    rest = listed(capsys, "--for", "programs/heron-07.yaml", "--count", "1000")
    assert usual[0] not in rest
    assert probes[0] not in listed(capsys, "--for", "programs/heron-07.yaml", "--probe", "3")


def test_a_short_list_says_why(capsys: pytest.CaptureFixture[str]) -> None:
    told = said(capsys, "z")
    assert "words that children know begin with /z/." in told
    assert "kept for your own test" not in told, "a short list keeps no word apart"
    assert "children know" not in said(capsys, "k")
    assert main(["words", "ng"]) == 1
    assert "No English word in use begins with /ŋ/." in capsys.readouterr().out


def test_less_known_words_are_named_beside_a_pasted_list(
    capsys: pytest.CaptureFixture[str],
) -> None:
    text = said(capsys, "/θ/", "--position", "medial", "--yaml")
    named = text.partition(f"   # {LESS_KNOWN}: ")[2].strip().split(", ")
    assert set(named) < set(yaml.safe_load(text)["words"])


def test_probe_words_are_offered_nowhere(capsys: pytest.CaptureFixture[str]) -> None:
    kept = listed(capsys, "k", "--probe", "8")
    assert len(kept) == 8
    assert set(kept).isdisjoint(listed(capsys, "k", "--count", "1000"))


def test_explained(capsys: pytest.CaptureFixture[str]) -> None:
    out = said(capsys, "k", "--explain", "key")
    assert "complexity 1 (Word Complexity Measure): velar k" in out
    assert "rank " in out


@pytest.mark.parametrize(
    ("line", "message"),
    [
        pytest.param(["th"], "`th` could be two sounds", id="two sounds"),
        pytest.param([], "name a sound", id="nothing"),
        pytest.param(["k", "--cluster", "st"], "a cluster without /k/", id="another's cluster"),
        pytest.param(["k", "--cluster", "th"], "two sounds", id="a cluster of two sounds"),
        pytest.param(
            ["s", "--cluster", "s7"], "`s7` is not a cluster", id="a cluster that cannot be read"
        ),
        pytest.param(["k", "--without", "th"], "two sounds", id="without what"),
        pytest.param(["k", "--for", "programs/none.yaml"], "no such file", id="no program"),
        pytest.param(["s", "--for", "programs/heron-07.yaml"], "teaches /k/", id="another sound"),
        pytest.param(
            ["k", "--probe", "3", "--yaml"], "must not go into a program", id="probes go nowhere"
        ),
        pytest.param(
            ["k", "--explain", "qqqq"], "pronunciation of this word is not known", id="no word"
        ),
        pytest.param(["k", "--explain", "knife"], "leaves this word out", id="an unsuitable word"),
    ],
)
def test_one_clear_message(
    capsys: pytest.CaptureFixture[str], line: list[str], message: str
) -> None:
    assert main(["words", *line]) == 2
    told = capsys.readouterr()
    assert message in told.err
    assert told.out == ""


@pytest.mark.parametrize(
    "option",
    [
        ["--syllables", "0"],
        ["--syllables", "2-1"],
        ["--syllables", "a"],
        ["--count", "0"],
        ["--probe", "-1"],
        ["--zipf", "nan"],
        ["--zipf", "x"],
    ],
)
def test_figures_that_are_none(capsys: pytest.CaptureFixture[str], option: list[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["words", "k", *option])
    assert stop.value.code == 2
    assert "Traceback" not in capsys.readouterr().err


def test_nothing_fits(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", "/ʒ/", "--position", "initial", "--pictured"]) == 1
    assert "no word fits" in capsys.readouterr().out


@pytest.mark.parametrize("sound", ["k", "s", "f", "b", "g", "m"])
def test_no_unsuitable_word_is_printed(capsys: pytest.CaptureFixture[str], sound: str) -> None:
    for position in ("initial", "medial", "final"):
        words = listed(
            capsys,
            sound,
            "--position",
            position,
            "--count",
            "1000",
            "--cluster",
            "any",
            "--wide",
            "--endings",
        )
        assert unsuitable.words().isdisjoint(words)
