"""The command, over a tiny index."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from builder.__main__ import main
from builder.phonetics.inventory import parse_sound
from builder.phonetics.lexicon.index import Index, Row
from builder.wordbank.probes import is_probe

LINES = (
    "key K IY1",
    "tea T IY1",
    "cape K EY1 P",
    "tape T EY1 P",
    "cap K AE1 P",
    "tap T AE1 P",
    "bike B AY1 K",
    "bite B AY1 T",
    "boat B OW1 T",
    "to T UW1",
    "coo K UW1",
    "kim K IH1 M",
    "tim T IH1 M",
    "kite K AY1 T",
    "bow B AW1",
    "corn K AO1 R N",
    "worm W ER1 M",
    "sink S IH1 NG K",
    "think TH IH1 NG K",
    "street S T R IY1 T",
    "goat G OW1 T",
    "gun G AH1 N",
    "bun B AH1 N",
)


class Tiny:
    """Stands in for the index."""

    def all(self) -> Iterator[Row]:
        for word, *phones in map(str.split, LINES):
            yield Row(word, tuple(phones), 4.0, True, word == "bow", "")

    def row(self, word: str) -> Row | None:
        return next((row for row in self.all() if row.word == word), None)

    def close(self) -> None:
        """Nothing to let go."""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "mkdocs.yml").touch()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(Index, "open", lambda *_: Tiny())


Said = Callable[..., tuple[int, str]]


@pytest.fixture
def said(capsys: pytest.CaptureFixture[str]) -> Said:
    def run(*words: str) -> tuple[int, str]:
        code = main(["pairs", *words])
        out = capsys.readouterr()
        return code, out.out + out.err

    return run


def listed(said: Said, *words: str) -> Any:
    _, out = said(*words, "--json")
    return json.loads(out)


def test_pairs_are_told_with_features_and_pronunciation(said: Said) -> None:
    code, out = said("k", "t", "--position", "initial")
    heading, first, *_ = out.splitlines()
    assert code == 0
    assert heading == "/k/ and /t/: 1 feature differs (place)"
    assert first.split()[:3] == ["key", "/", "tea"]
    assert "initial; /ki/ /ti/" in first
    assert "bike" not in out


def test_names_and_small_words_are_not_offered(said: Said) -> None:
    words = {word for pair in listed(said, "k", "t", "--count", "100") for word in pair["words"]}
    assert {"key", "tea", "bike", "bite"} <= words
    assert not {"kim", "tim", "coo", "to"} & words


def test_unsuitable_words_are_not_offered(said: Said) -> None:
    assert [pair["words"] for pair in listed(said, "g", "b")] == [["goat", "boat"]]


def test_count_is_a_bound(said: Said) -> None:
    assert len(listed(said, "k", "t", "--count", "2")) == 2


def test_json(said: Said) -> None:
    found = listed(said, "k", "t", "--position", "final")
    assert found == [
        {
            "words": ["bike", "bite"],
            "ipa": ["baɪk", "baɪt"],
            "sounds": ["k", "t"],
            "position": "final",
            "near": False,
            "in_cluster": False,
            "flapped": False,
            "features": 1,
            "differing": ["place"],
            "pictured": found[0]["pictured"],
            "known": found[0]["known"],
            "zipf": [4.0, 4.0],
        }
    ]
    assert found[0]["pictured"] in (0, 1, 2)
    assert listed(said, "t", "-")[0]["features"] is None


def test_nothing_is_written_as_a_hyphen_and_every_reading_counts(said: Said) -> None:
    _, out = said("t", "-", "--position", "final")
    assert out.startswith("/t/ and nothing: a sound or no sound")
    assert "boat / bow" in out
    assert "'bow' can be read in two ways" in out


def test_no_probe_word_is_offered_where_there_are_many_pairs(
    said: Said, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert is_probe("sink", parse_sound("s"))
    assert not is_probe("think", parse_sound("/θ/"))
    assert [pair["words"] for pair in listed(said, "s", "/θ/")] == [["sink", "think"]]
    monkeypatch.setattr("builder.wordbank.contrast_pairs.MIN_WORDS", 0)
    assert listed(said, "s", "/θ/") == []


PROGRAM = """\
program: 1
client: wren-01
age: 4
sound: k
error: t
position: [initial, final]
current: words
steps: [{name: words, level: word, items: [cow]}]
"""


@pytest.fixture
def wren(tmp_path: Path) -> Path:
    """A client who says t for k, with a picture of her own and one of the clinic's."""
    programs = tmp_path / "programs"
    for folder in (programs / "pictures", programs / "wren-01"):
        folder.mkdir(parents=True)
    (programs / "pictures" / "Cap.JPG").touch()
    (programs / "wren-01" / "tap.png").touch()
    (programs / "wren-01.yaml").write_text(PROGRAM)
    (programs / "clinic.yaml").write_text("clinic: 1\ncontact: {clinic: Test}\n")
    return programs


def test_a_clients_program_says_which_sounds_where_and_what_has_a_picture(
    said: Said, wren: Path
) -> None:
    _, out = said("--for", "wren-01")
    assert out.startswith("/k/ and /t/: 1 feature differs")
    initial, final = out.split("final:\n")
    assert "cap / tap    initial; /kæp/ /tæp/; a picture of both" in initial
    assert "bike / bite" in final
    (wren / "wren-02.yaml").write_text(PROGRAM.replace("wren-01", "wren-02"))
    pictured = {tuple(p["words"]): p["pictured"] for p in listed(said, "--for", "wren-02")}
    assert pictured["cap", "tap"] == 1, "one's own picture is no other client's"


def test_a_program_that_names_no_sound_is_asked_for_two(said: Said, wren: Path) -> None:
    (wren / "wren-01.yaml").write_text(PROGRAM.replace("error: t", "error: distorted"))
    code, out = said("--for", "wren-01")
    assert code == 2
    assert "`pairs s t --for wren-01`" in out
    assert said("k", "t", "--for", "wren-01")[0] == 0
    assert said("k")[0] == 2


def test_none_is_said_and_ends_with_1(said: Said) -> None:
    code, out = said("m", "zh")
    assert code == 1
    assert "No pair of words" in out
    assert listed(said, "m", "zh") == []


@pytest.mark.parametrize(
    ("words", "message"),
    [
        pytest.param(("th", "s"), "`th` could be two sounds: write `/θ/` as in", id="asked back"),
        pytest.param(("s", "s"), "against itself is no contrast", id="the same sound"),
        pytest.param(("str", "t"), "differ in more than one sound", id="too far apart"),
        pytest.param(("k", "ee"), "never stands in the place of a vowel", id="vowel"),
        pytest.param(("qq", "s"), "is not a sound this tool knows", id="no sound"),
        pytest.param(
            ("zz", "g"),
            "`zz` is not a sound, and no English word has it as a cluster (/z/ and /z/). "
            "Type a sound as in k",
            id="a slip, no cluster",
        ),
        pytest.param(("g", "zz"), "`zz` is not a sound", id="a slip on the other side"),
    ],
)
def test_what_cannot_be_asked_is_one_message(
    said: Said, words: tuple[str, ...], message: str
) -> None:
    code, out = said(*words)
    assert code == 2
    assert message in out
    assert "Traceback" not in out


def test_a_count_must_be_a_number(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["pairs", "k", "t", "--count", "0"])
    assert "`0` is not a number from 1 to 1000" in capsys.readouterr().err
