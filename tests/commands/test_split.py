"""practice-site split: what is printed and written, and what is refused."""

from __future__ import annotations

import json
import wave
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest

from builder.__main__ import main
from builder.audio.io.wav import wav
from builder.commands import split_command
from builder.recordings.file_names import free_name
from builder.workspace.store import move_new
from tests.support.clinics import clinic
from tests.support.read_lists import RATE, ListRecording, read

PROGRAM = """\
program: 1
client: finch-10
age: 7
reads: yes
sound: k
baseline: {date: 2026-12-03, correct: 18, of: 20}
current: words
practice: {from: 2026-12-07, visit: 2026-12-14}
words: [cow, comb, key, camel]
steps:
  - {name: words, level: word, rounds: [natural imitation]}
  - {name: two words, level: phrase, items: [my cow, my comb]}
"""
FILE = "programs/finch-10.yaml"
SAID = ("cow", "comb", "camel")


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A clinic's folder with one program and a reading of it, as the current folder."""
    folder = clinic(tmp_path, PROGRAM)
    (tmp_path / "reading.wav").write_bytes(reading(SAID))
    monkeypatch.chdir(tmp_path)
    return folder


@cache
def reading(items: tuple[str, ...]) -> bytes:
    return wav(read(ListRecording(31, ""), items).samples(), RATE)


def written(folder: Path) -> list[str]:
    takes = folder / "takes"
    return sorted(str(f.relative_to(takes)) for f in takes.rglob("*") if f.is_file())


def test_the_list(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["split", FILE, "--list"]) == 0
    assert capsys.readouterr().out.splitlines()[-4:] == ["cow", "comb", "key", "camel"]
    assert main(["split", FILE, "--list", "--all"]) == 0
    assert capsys.readouterr().out.splitlines()[-2:] == ["my cow", "my comb"]


def test_a_reading_is_cut(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = Path("reading.wav").read_bytes()
    assert main(["split", FILE, "reading.wav"]) == 0
    said = capsys.readouterr().out
    assert written(programs) == [f"unheard/{name}.wav" for name in sorted(SAID)]
    assert "key    not found" in said
    assert "3 kept, 0 doubtful, 1 not found." in said
    assert f"practice-site proof {FILE}" in said
    assert Path("reading.wav").read_bytes() == before


def test_a_cut_is_the_recording_as_it_is(programs: Path) -> None:
    main(["split", FILE, "reading.wav"])
    whole = samples_of(Path("reading.wav"))
    part = samples_of(programs / "takes/unheard/cow.wav")
    places = np.flatnonzero(whole == part[0])
    assert any(np.array_equal(whole[at : at + len(part)], part) for at in places)


def samples_of(file: Path) -> np.ndarray[tuple[int], np.dtype[np.int32]]:
    with wave.open(str(file)) as opened:
        assert (opened.getnchannels(), opened.getsampwidth()) == (1, 3)
        assert opened.getframerate() == RATE
        data = np.frombuffer(opened.readframes(opened.getnframes()), np.uint8).reshape(-1, 3)
    return np.asarray(np.pad(data, ((0, 0), (1, 0))).copy().view("<i4").ravel() >> 8)


def test_a_dry_run_writes_nothing(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["split", FILE, "reading.wav", "--dry-run"]) == 0
    assert "Nothing was written" in capsys.readouterr().out
    assert not (programs / "takes").exists()


def test_nothing_is_overwritten(programs: Path) -> None:
    kept = programs / "takes/unheard/cow.m4a"
    kept.parent.mkdir(parents=True)
    kept.write_bytes(b"mine")
    main(["split", FILE, "reading.wav"])
    main(["split", FILE, "reading.wav"])
    assert kept.read_bytes() == b"mine"
    assert [name for name in written(programs) if "cow" in name] == [
        "unheard/cow-2.wav",
        "unheard/cow-3.wav",
        "unheard/cow.m4a",
    ]


def test_a_number_is_never_the_name_of_another_item(programs: Path) -> None:
    (programs / "takes").mkdir()
    (programs / "takes/bus.wav").write_bytes(b"")
    assert free_name(programs / "takes", "bus", {"bus", "bus-2"}) + ".wav" == "bus-3.wav"


def test_what_is_doubtful_lies_apart(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("reading.wav").write_bytes(reading(("cow", "key", "comb", "camel")))
    assert main(["split", FILE, "reading.wav", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    states = {item["text"]: item for item in told["items"]}
    doubtful = [item for item in states.values() if item["state"] == "doubtful"]
    assert doubtful
    assert all(item["why"] and item["file"].startswith("doubtful/") for item in doubtful)
    files = [item["file"] for item in states.values() if "file" in item]
    assert written(programs) == sorted(files)


def test_as_json(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["split", FILE, "reading.wav", "--json", "--dry-run"])
    told = json.loads(capsys.readouterr().out)
    cow, key = told["items"][0], told["items"][2]
    assert (cow["name"], cow["state"], cow["file"]) == ("cow", "kept", "unheard/cow.wav")
    assert 0.5 < cow["start"] < 0.7
    assert key == {"name": "key", "text": "key", "state": "not found"}
    assert told["strays"] == []


def test_all_files_or_none(programs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    moves = []

    def full(source: Path, target: Path) -> None:
        moves.append(target)
        if len(moves) == 3:
            raise OSError(28, "No space left on device")
        move_new(source, target)

    monkeypatch.setattr(split_command, "move_new", full)
    assert main(["split", FILE, "reading.wav"]) == 2
    assert len(moves) == 3
    assert written(programs) == []


def test_a_name_that_is_taken_meanwhile_is_left(
    programs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A second split, or a file that is put there, after the names were chosen."""
    theirs = programs / "takes/unheard/comb.wav"
    write = split_command._write

    def late(takes: Path, files: dict[str, bytes]) -> None:
        if not theirs.exists():
            theirs.parent.mkdir(parents=True, exist_ok=True)
            theirs.write_bytes(b"theirs")
        write(takes, files)

    monkeypatch.setattr(split_command, "_write", late)
    assert main(["split", FILE, "reading.wav", "--json"]) == 0
    assert theirs.read_bytes() == b"theirs"
    assert written(programs) == [
        f"unheard/{name}.wav" for name in ("camel", "comb-2", "comb", "cow")
    ]
    told = [item.get("file") for item in json.loads(capsys.readouterr().out)["items"]]
    assert "unheard/comb-2.wav" in told
    assert samples_of(programs / "takes/unheard/comb-2.wav").size


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ([FILE], "name the recording too"),
        ([FILE, "nothing.wav"], "no such file"),
        ([FILE, FILE], "cannot be read"),
        (["reading.wav", FILE], "name the client first"),
        (["programs/fitch.yaml", "reading.wav"], "no such file"),
        ([FILE, "silent.wav"], "no speech found"),
        ([FILE, "clap.wav"], "Is it the right program?"),
        pytest.param([FILE, "long.wav"], "30 minutes at most", marks=pytest.mark.slow),
    ],
)
def test_what_is_refused(
    programs: Path, arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("silent.wav").write_bytes(wav(np.zeros(3 * RATE), RATE))
    clap = np.zeros(3 * RATE)
    clap[RATE : RATE + 6000] = 0.3 * np.random.default_rng(32).standard_normal(6000)
    Path("clap.wav").write_bytes(wav(clap, RATE))
    if "long.wav" in arguments:
        Path("long.wav").write_bytes(minutes(31))
    assert main(["split", *arguments]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert says in said.err
    assert said.err.count("\n") == 1
    assert not (programs / "takes").exists()


def minutes(number: int) -> bytes:
    stream = BytesIO()
    with wave.open(stream, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(1)
        file.setframerate(8000)
        file.writeframes(bytes([128]) * 8000 * 60 * number)
    return stream.getvalue()


def test_an_option_may_stand_before_the_recording(programs: Path) -> None:
    assert main(["split", FILE, "--dry-run", "reading.wav"]) == 0
    assert written(programs) == []


def test_a_list_of_syllables_tells_how_they_are_said(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = programs / "finch-10.yaml"
    text = file.read_text("utf-8").replace("current: words", "current: with a vowel")
    step = "  - {name: with a vowel, level: syllable, vowels: [ee, ae, ah, oo]}\n"
    file.write_text(text.replace("steps:\n", "steps:\n" + step), "utf-8")
    assert main(["split", FILE, "--list"]) == 0
    assert "k-ae   /kæ/" in capsys.readouterr().out
