"""practice-site record: what it prints, where recordings go, and what it cannot do."""

from __future__ import annotations

import json
import re
import shutil
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from builder.__main__ import main
from tests.support.places import EXAMPLES, ROOT
from tests.support.stock import copy_stock

pytestmark = pytest.mark.slow


@pytest.fixture
def space(tmp_path: Path, stock: Path) -> Path:
    """A practice folder with two of the demo programs."""
    copy_stock(stock, tmp_path)
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    (tmp_path / "programs").mkdir()
    for name in ("clinic", "heron-07", "badger-03"):
        shutil.copy(EXAMPLES / f"{name}.yaml", tmp_path / "programs")
    return tmp_path


@contextmanager
def running(space: Path, *options: str) -> Iterator[tuple[str, str]]:
    """The command with no terminal: what it says first, and the address."""
    command = [sys.executable, "-m", "builder", "record", *options]
    with subprocess.Popen(
        command, cwd=space, env={"PYTHONPATH": str(ROOT)}, text=True, stdout=subprocess.PIPE
    ) as one:
        assert one.stdout
        try:
            first, second = one.stdout.readline(), one.stdout.readline()
            found = re.search(r"http://127\.0\.0\.1:\d+/#\S+", second)
            assert found, first + second
            yield first, found[0]
        finally:
            one.kill()


def test_it_shows_all_programs_and_says_where_recordings_go(space: Path) -> None:
    with running(space) as (first, address):
        assert first.endswith(f"prompts; recordings go into {space / 'programs' / 'takes'}\n")
        origin = address.partition("#")[0]
        for path in (
            "",
            "recording_page/js/practice-recorder.js",
            "theme/assets/tokens.css",
            "theme/assets/fonts/letters.woff2",
            "theme/assets/js/microphone.js",
            "theme/assets/worklets/tap.js",
        ):
            with urllib.request.urlopen(origin + path, timeout=20) as answer:
                assert answer.status == 200
    assert not (space / "programs" / "takes").exists()


def test_started_again_it_has_the_same_address_and_knows_its_windows(space: Path) -> None:
    """However it ended: the first one is killed."""
    with running(space) as (_, address):
        origin, _, key = address.partition("#")
        session = json.loads(answer(origin + "enter", key.encode()))["session"]
    with running(space) as (_, again):
        assert again.partition("#")[0] == origin
        assert again != address
        folder = json.loads(answer(origin + "prompts", session=session))["folder"]
        assert folder == str(space / "programs" / "takes")
        with running(space) as (_, beside):  # two at once
            assert beside.partition("#")[0] != origin


def answer(address: str, data: bytes | None = None, session: str = "") -> bytes:
    """What the page's own window gets."""
    origin = "/".join(address.split("/")[:3])
    headers = {"Origin": origin, "Content-Type": "text/plain", "X-Recording-Session": session}
    with urllib.request.urlopen(urllib.request.Request(address, data, headers), timeout=20) as one:
        return bytes(one.read())


def test_a_folder_and_a_program_may_be_named(space: Path) -> None:
    with running(space, "programs/badger-03.yaml", "--to", "voice") as (first, _):
        named = int(first.split()[0])
        assert first.endswith(f"{space / 'voice'}\n")
    with running(space) as (first, _):
        assert 0 < named < int(first.split()[0])


def test_what_it_cannot_do_is_said(
    space: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(space)
    (space / "file").write_text("")
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        assert main(["record", "--port", port]) == 2
    assert f"port {port}: Address already in use. Try another `--port`." in capsys.readouterr().err
    assert main(["record", "--to", "file/takes"]) == 2
    assert "file: this is a file; recordings need a folder." in capsys.readouterr().err
    assert main(["record", "programs/wren-01.yaml"]) == 2
    assert "there is no such file" in capsys.readouterr().err
    for file in (space / "programs").glob("*-*.yaml"):
        file.unlink()
    assert main(["record"]) == 2
    assert "there is no program here yet" in capsys.readouterr().err


def test_a_program_with_faults_in_its_form_is_not_recorded(
    space: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Named it stops the command; where all are meant it stops no other."""
    monkeypatch.chdir(space)
    file = space / "programs" / "heron-07.yaml"
    file.write_text(file.read_text("utf-8").replace("sound: k", "sound: q"), "utf-8")
    assert main(["record", "heron-07"]) == 1
    assert "heron-07.yaml:" in capsys.readouterr().err
    with running(space, "badger-03") as (alone, _):
        pass
    with running(space) as (first, _):
        assert first == alone
    (space / "programs" / "badger-03.yaml").unlink()
    assert main(["record"]) == 1
    assert "heron-07.yaml:" in capsys.readouterr().err
