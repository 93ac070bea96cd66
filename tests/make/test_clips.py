"""Planned clips become files with facts, once."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
import soundfile

from builder.audio import render
from builder.audio.render import require_speakable
from builder.audio.speech import Speech
from builder.audio.voices import ServiceError, online, versions, voice_version
from builder.make import clips
from builder.make.clips import Facts, make
from builder.model.clinic import Speaker
from builder.model.plan import Clip
from builder.problems import UsageError
from builder.workspace.store import Store
from tests.support.audio import alone, clip, say, sine


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "store")


def facts_of(one: Clip, store: Store) -> Facts:
    return make([one], store)[one.key]


def test_a_natural_clip(store: Store) -> None:
    cow = clip("cow", "K")
    facts = facts_of(cow, store)
    data = store.path(cow.key, ".mp3").read_bytes()
    samples, rate = soundfile.read(BytesIO(data))
    assert (facts.rate, facts.size, facts.voice) == (rate, len(data), "embedded")
    assert facts.duration == pytest.approx(len(samples) / rate, abs=0.001)
    assert facts.start is not None
    assert facts.end is not None
    assert 0.05 <= facts.start < facts.end < 0.25
    assert facts.loudness == pytest.approx(-18, abs=1)
    assert facts.loudness_kind == "LUFS"
    assert facts.peak <= -1


def test_a_long_clip_is_natural_but_for_its_target(store: Store) -> None:
    natural, long = (facts_of(clip("messy", "S", form), store) for form in ("natural", "long"))
    assert natural.start is not None
    assert natural.end is not None
    assert long.start == pytest.approx(natural.start, abs=0.01)
    assert long.end is not None
    assert long.start is not None
    assert long.end - long.start == pytest.approx(1.5, abs=0.03)
    assert long.duration - long.end == pytest.approx(natural.duration - natural.end, abs=0.01)
    assert long.spectral_mean == pytest.approx(natural.spectral_mean, rel=0.05)


@pytest.mark.parametrize("symbol", ["S", "SH", "M", "L", "K", "CH", "ER"])
def test_a_sound_alone(store: Store, symbol: str) -> None:
    facts = facts_of(alone(symbol), store)
    assert facts.start == pytest.approx(0.075, abs=0.03)
    if symbol in ("K", "CH"):
        assert facts.duration < 0.4
        assert facts.loudness_kind == "gated RMS"
    else:
        assert facts.duration == pytest.approx(1.65, abs=0.06)  # a multiple of 0.1


def test_a_clip_is_made_once(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    cow = clip("cow", "K")
    first = facts_of(cow, store)
    monkeypatch.setattr(clips, "_render", None)
    assert facts_of(cow, store) == first


def test_spoilt_or_missing_facts_are_made_again(store: Store) -> None:
    cow = clip("cow", "K")
    first = facts_of(cow, store)
    file = store.path(cow.key, ".json")
    for spoilt in ("", "{}", json.dumps({"size": 1})):
        file.write_text(spoilt)
        assert facts_of(cow, store) == first


def test_a_damaged_clip_is_made_again(store: Store) -> None:
    cow = clip("cow", "K")
    facts_of(cow, store)
    file = store.path(cow.key, ".mp3")
    whole = file.read_bytes()
    for damaged in (whole[:-100], bytes(len(whole))):
        file.write_bytes(damaged)
        facts_of(cow, store)
        assert file.read_bytes() == whole


def test_the_same_clip_has_the_same_bytes_whatever_was_made_before(tmp_path: Path) -> None:
    bus, cow, moon = clip("bus", "S", "long"), clip("cow", "K"), clip("moon", "M", "long")
    one, other = Store(tmp_path / "one"), Store(tmp_path / "other")
    make([bus, cow, moon], one)
    make([moon, cow], other)
    make([bus], other)
    for each in (bus, cow, moon):
        assert one.path(each.key, ".mp3").read_bytes() == other.path(each.key, ".mp3").read_bytes()


def test_progress_counts_the_clips_that_are_ready(store: Store) -> None:
    told: list[int] = []
    make([clip("cow", "K")], store)
    make([clip(word, "K") for word in ("cow", "key", "kiss")] * 2, store, told.append)
    assert told == [1, 2, 3]


@pytest.mark.slow
def test_many_clips_are_shared_among_processes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = ["cow", "key", "kiss", "cup"]
    shared, alone_ = Store(tmp_path / "shared"), Store(tmp_path / "alone")
    wanted = [clip(word, "K") for word in words]
    expected = make(wanted, alone_)
    monkeypatch.setattr(clips, "_helpers", lambda clips: 1)
    assert make(wanted, shared) == expected
    for each in wanted:
        assert shared.path(each.key, ".mp3").read_bytes() == (
            alone_.path(each.key, ".mp3").read_bytes()
        )


def test_a_slow_voice_is_worth_a_helper_sooner_but_few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clips, "cores", lambda: 8)

    def helpers(voice: Speaker, number: int) -> int:
        return clips._helpers([replace(clip("key", "K"), voice=voice)] * number)

    assert (helpers("embedded", 390), helpers("embedded", 410)) == (0, 1)
    assert (helpers("natural", 39), helpers("natural", 41)) == (0, 1)
    assert (helpers("man", 19), helpers("man", 21)) == (0, 1)
    assert (helpers("natural", 1000), helpers("man", 1000)) == (7, 3)


@pytest.mark.parametrize(
    ("word", "symbol"), [("key", "K"), ("tub", "B"), ("cheese", "CH"), ("jam", "JH")]
)
def test_what_cannot_be_held_is_refused(store: Store, word: str, symbol: str) -> None:
    with pytest.raises(ValueError, match="cannot be held"):
        make([clip(word, symbol, "long")], store)
    assert not store.folder.exists()


def test_a_long_form_needs_a_target() -> None:
    with pytest.raises(ValueError, match="no target"):
        require_speakable(replace(clip("cow", "AW", "long"), focus=None))


def take_of(path: Path, one: Clip, rate: int = 44100) -> Clip:
    soundfile.write(path, 0.3 * sine(700, 0.6, rate), rate)
    return replace(one, voice="recorded", take=str(path))


def test_a_take_replaces_the_voice(store: Store, tmp_path: Path) -> None:
    facts = facts_of(take_of(tmp_path / "cow.wav", clip("cow", "K")), store)
    assert (facts.voice, facts.rate, facts.start, facts.end) == ("recorded", 44100, None, None)
    assert facts.spectral_mean is None
    assert facts.loudness == pytest.approx(-18, abs=0.5)
    assert facts.duration == pytest.approx(0.72, abs=0.06)


def test_the_long_form_of_a_natural_take_is_made_of_it(store: Store, tmp_path: Path) -> None:
    said = say("messy", "S")
    assert said.target
    soundfile.write(tmp_path / "messy.wav", 0.3 * said.samples, said.rate)
    start, stop = (at / said.rate for at in said.target)
    one = clip(
        "messy", "S", "long", voice="recorded", take=str(tmp_path / "messy.wav"), span=(start, stop)
    )
    facts = facts_of(one, store)
    assert facts.voice == "recorded"
    assert facts.start is not None
    assert facts.end is not None
    assert facts.end - facts.start == pytest.approx(1.5, abs=0.03)


def test_a_long_take_is_taken_as_it_is(store: Store, tmp_path: Path) -> None:
    one = replace(clip("messy", "S", "long"), held=True)
    facts = facts_of(take_of(tmp_path / "messy-long.wav", one), store)
    assert (facts.voice, facts.start) == ("recorded", None)


def test_a_clip_that_no_voice_can_make_is_left_out_and_not_tried_again(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    tries = []

    def unfit(one: Clip) -> None:
        tries.append(one)
        raise ValueError("The word was not to be found in what it said.")

    monkeypatch.setattr(render, "render", unfit)
    cow = clip("cow", "K")
    assert make([cow], store) == make([cow], store) == {}
    assert tries == [cow]


def test_a_take_of_a_sound_alone_is_all_target(store: Store, tmp_path: Path) -> None:
    facts = facts_of(take_of(tmp_path / "s.wav", alone("S")), store)
    assert facts.voice == "recorded"
    assert facts.start == pytest.approx(0.075, abs=0.03)
    assert facts.spectral_mean == pytest.approx(700, rel=0.05)


def test_a_take_that_is_gone_is_said_plainly(store: Store) -> None:
    gone = replace(clip("cow", "K"), voice="recorded", take="takes/cow.wav")
    with pytest.raises(UsageError, match=r"takes/cow\.wav"):
        make([gone], store)


def test_until_a_service_speaks_the_next_voice_does_and_is_not_kept_for_it(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def away(one: Clip) -> Speech:
        asked.append(one.text)
        raise ServiceError("The online voice did not speak: no connection.")

    cow = clip("cow", "K")
    sent = replace(clip("cow", "K", voice="online"), instead=cow)
    monkeypatch.setattr(online, "say", away)
    facts = make([sent], store)
    assert facts.keys() == {cow.key}
    assert facts[cow.key].voice == "embedded"
    assert facts[cow.key].instead == "The online voice did not speak: no connection."
    assert facts_of(cow, store).instead == ""  # what others hear of it is as ever
    assert not [file for file in store.folder.rglob("*") if file.name.startswith(sent.key)]
    assert make([sent], store) == facts
    assert asked == ["cow", "cow"]
    monkeypatch.setattr(online, "say", lambda one: replace(say("cow", "K"), voice="online"))
    assert facts_of(sent, store).voice == "online"


def test_versions_tell_voices_apart() -> None:
    assert "espeakng-loader" in voice_version()
    assert "gTTS" in voice_version("online")
    assert len({voice_version(name) for name in versions()}) == len(versions())


LIGHT = """
import sys
from pathlib import Path
from builder.audio.voices import voice_version
from builder.make.clips import make
from builder.model.plan import Clip
from builder.workspace.store import Store
voice_version()
key = sys.argv[2]
clip = Clip(
    key=key, path="", text="cow", words=(("K", "AW1"),), focus=(0, 0, 1), form="natural",
    alone=False, hold=0.0, voice="embedded",
)
assert make([clip], Store(Path(sys.argv[1])))
heavy = "numpy scipy av onnxruntime hibari espeakng_loader multiprocessing"
print([m for m in heavy.split() if m in sys.modules])
"""


def test_reading_facts_imports_nothing_heavy(store: Store) -> None:
    cow = clip("cow", "K")
    make([cow], store)
    found = subprocess.run(
        [sys.executable, "-c", LIGHT, str(store.folder), cow.key],
        capture_output=True,
        text=True,
        check=True,
    )
    assert found.stdout.strip() == "[]"
