"""Which recording belongs to what, how good it is, and which of several is heard."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
import soundfile

from builder.audio.assess import assess
from builder.audio.assess.issue import Issue
from builder.recordings import takes
from builder.recordings.colour import duller
from builder.recordings.file_names import matching_stem
from builder.recordings.heard import add_heard
from builder.recordings.prompts import Utterance, client_prompts
from builder.recordings.takes import Take
from builder.workspace.store import Store
from tests.support.clients import client_of
from tests.support.degraded import Take as Samples
from tests.support.degraded import low_passed, noisy, recorded

TEXT = """\
sound: s
position: final
error: /θ/
mastered: {isolation: 2026-10-14, syllable: 2026-11-18}
current: words
words: [bus, house, ice, mouse]
steps:
  - {name: words, level: word, rounds: [long imitation, natural imitation]}
  - {name: numbers, level: phrase, items: [a bus]}
"""
UTTERANCES = {p.utterance.stem: p.utterance for p in client_prompts(client_of(TEXT))}


def put(folder: Path, name: str, take: Samples) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    soundfile.write(folder / name, take.samples, take.rate)
    return folder / name


def found(folder: Path, *folders: Path, store: Store | None = None) -> dict[str, tuple[Take, ...]]:
    every = takes.find_takes(UTTERANCES.values(), (folder, *folders), store)
    return {asked.stem: known for asked, known in every.items()}


@pytest.mark.parametrize(
    ("stem", "owner"),
    [
        pytest.param("bus", "bus", id="as it is"),
        pytest.param("bus-2", "bus", id="a second try"),
        pytest.param("bus-long", "bus-long", id="held"),
        pytest.param("bus-long-3", "bus-long", id="held, a third try"),
        pytest.param("bus-7", "bus-7", id="a phrase that ends in a number"),
        pytest.param("bus-7-2", "bus-7", id="a second try of it"),
        pytest.param("buses", "", id="another word"),
    ],
)
def test_which_name_means_what(stem: str, owner: str) -> None:
    assert matching_stem(stem, {"bus", "bus-long", "bus-7"}) == owner


def test_a_good_recording_is_used_and_its_target_is_found(tmp_path: Path) -> None:
    good = recorded("bus", "S")
    put(tmp_path, "Bus.flac", good)
    (take,) = found(tmp_path)["bus"]
    assert take.usable
    assert take.target is not None
    start, stop = (at / good.rate for at in good.target)
    assert take.target[0] == pytest.approx(start, abs=0.04)
    assert take.target[1] == pytest.approx(stop, abs=0.08)  # the room rings on


def test_a_narrow_recording_is_refused_and_says_why(tmp_path: Path) -> None:
    put(tmp_path, "bus.wav", low_passed(recorded("bus", "S"), 5000))
    (take,) = found(tmp_path)["bus"]
    assert not take.usable
    assert [issue.rule for issue in take.refused] == ["band"]
    assert "kHz" in take.refused[0].figure


def test_a_file_that_is_no_recording_is_refused(tmp_path: Path) -> None:
    (tmp_path / "bus.m4a").write_bytes(b"no sound at all")
    (take,) = found(tmp_path)["bus"]
    assert [issue.rule for issue in take.refused] == ["unread"]
    assert str(tmp_path) not in take.refused[0].sentence


def test_of_two_the_better_one_is_heard(tmp_path: Path) -> None:
    put(tmp_path, "house.wav", low_passed(recorded("house", "S"), 5000))
    put(tmp_path, "house-2.wav", recorded("house", "S"))
    first, second = found(tmp_path)["house"]
    assert (Path(first.path).name, first.usable) == ("house-2.wav", True)
    assert Path(second.path).name == "house.wav"


def test_a_client_s_own_recording_goes_before_the_clinic_s(tmp_path: Path) -> None:
    for folder in ("own", "shared"):
        put(tmp_path / folder, "ice.wav", recorded("ice", "S"))
    first, second = found(tmp_path / "own", tmp_path / "shared")["ice"]
    assert [Path(t.path).parent.name for t in (first, second)] == ["own", "shared"]


def test_what_was_cut_and_not_heard_waits_and_what_was_cut_with_doubt_is_not_looked_at(
    tmp_path: Path,
) -> None:
    put(tmp_path / takes.UNHEARD_FOLDER, "mouse.wav", recorded("mouse", "S"))
    put(tmp_path / takes.DOUBTFUL_FOLDER, "ice.wav", recorded("ice", "S"))
    known = found(tmp_path)
    assert set(known) == {"mouse"}
    assert (known["mouse"][0].state, known["mouse"][0].usable) == ("unheard", False)


def test_a_file_is_measured_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put(tmp_path, "bus.wav", recorded("bus", "S"))
    store = Store(tmp_path / "store")
    before = found(tmp_path, store=store)
    monkeypatch.setattr(assess, "assess_file", None)  # calling it would fail
    assert found(tmp_path, store=store) == before


def test_a_doubtful_recording_is_used_once_it_was_heard(tmp_path: Path) -> None:
    file = put(tmp_path, "bus.wav", noisy(recorded("bus", "S"), 41))
    (take,) = found(tmp_path)["bus"]
    assert (take.verdict, take.usable, take.waits) == ("doubtful", False, True)
    add_heard(tmp_path, [file])
    (take,) = found(tmp_path)["bus"]
    assert (take.usable, take.waits) == (True, False)


def test_a_dull_s_is_doubted_beside_the_speaker_s_others(tmp_path: Path) -> None:
    for word in ("bus", "house", "ice"):
        put(tmp_path, f"{word}.wav", recorded(word, "S"))
    assert found(tmp_path)["bus"][0].verdict == "good"
    means = {"bus.wav": 4400.0, "house.wav": 6900.0, "ice.wav": 7000.0, "mouse.wav": 6400.0}
    (told,) = duller(means, "S").items()
    assert told[0] == "bus.wav"
    assert told[1].figure == "4.4 kHz, the others 6.9 kHz"
    assert duller({**means, "bus.wav": 5600.0}, "S") == {}
    assert duller({"bus.wav": 4400.0, "ice.wav": 7000.0}, "S") == {}


def test_wrong_examples_lie_by_their_error(tmp_path: Path) -> None:
    bus: Utterance = UTTERANCES["bus"]
    put(tmp_path / takes.WRONG_FOLDER / "lateral", "bus.wav", recorded("bus", "S"))
    take = takes.find_wrong(tmp_path, "lateral", bus, None)
    assert take is not None
    assert take.target is None
    assert takes.find_wrong(tmp_path, "frontal", bus, None) is None
    assert takes.find_wrong(tmp_path, "lateral", UTTERANCES["ice"], None) is None


def test_strangers_are_named(tmp_path: Path) -> None:
    for name in ("bus.wav", "hose.wav", "notes.txt", ".bus.wav"):
        (tmp_path / name).write_bytes(b"")
    assert takes.unmatched_files(UTTERANCES.values(), tmp_path) == ("hose.wav",)


def test_refused_and_usable() -> None:
    remark = Issue("band", "refused", "It is narrow.", "5 kHz")
    take = Take(
        path="a.wav",
        digest="d",
        target=None,
        verdict="again",
        issues=(remark,),
        rank=0.0,
        loudness=None,
    )
    assert (take.usable, take.refused) == (False, (remark,))
    doubtful = replace(take, verdict="doubtful")
    assert (doubtful.usable, doubtful.waits) == (False, True)
    assert replace(doubtful, heard=True).usable
    assert not replace(take, heard=True).usable


def test_what_was_measured_is_read_without_anything_heavy(tmp_path: Path) -> None:
    put(tmp_path, "bus.wav", recorded("bus", "S"))
    store = tmp_path / "store"
    assert found(tmp_path, store=Store(store))
    text = (
        "import sys; from pathlib import Path; from builder.recordings import takes;"
        "from builder.recordings.prompts import Utterance;"
        "from builder.workspace.store import Store;"
        f"said = {tuple(UTTERANCES['bus'])!r};"
        f"folder, store = Path({str(tmp_path)!r}), Store(Path({str(store)!r}));"
        "known = takes.find_takes([Utterance(*said)], [folder], store);"
        "assert known, 'not found';"
        "heavy = ('numpy', 'av', 'scipy', 'onnxruntime', 'hibari', 'speech_recognition');"
        "print([m for m in heavy if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
