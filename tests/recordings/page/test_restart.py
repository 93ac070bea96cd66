from __future__ import annotations

import stat
from pathlib import Path

import pytest

from builder.recordings.page.restart import (
    PORTS,
    SESSION_FILE,
    USUAL_PORTS,
    session_secret,
    usual_ports,
)
from builder.recordings.page.server import RecordingServer
from tests.support.recording_server import recorder


def test_a_folder_has_its_own_ports_each_time(tmp_path: Path) -> None:
    mine, yours = list(usual_ports(tmp_path / "a")), list(usual_ports(tmp_path / "b"))
    assert mine == list(usual_ports(tmp_path / "x" / ".." / "a"))
    assert mine != yours
    assert len(mine) == USUAL_PORTS
    assert set(mine + yours) <= set(PORTS)
    # Ports that browsers refuse to ask end at 10080 (Fetch standard, "port blocking"); those of
    # outgoing connections begin at 32768 on Linux, at 49152 elsewhere (RFC 6335, section 6). The
    # first two are recalled from memory.
    assert PORTS[0] > 10_080
    assert PORTS[-1] < 32_768


def test_the_secret_stays_and_is_private(tmp_path: Path) -> None:
    secret = session_secret(tmp_path)
    assert len(secret) == 32
    assert session_secret(tmp_path) == secret
    assert stat.S_IMODE((tmp_path / SESSION_FILE).stat().st_mode) == 0o600
    other = tmp_path / "other"
    other.mkdir()
    assert session_secret(other) != secret


@pytest.mark.parametrize("damaged", [b"", b"short", b"\xff" * 32, b"a" * 33, b"a" * 32 + b"\n"])
def test_a_damaged_secret_is_made_anew(tmp_path: Path, damaged: bytes) -> None:
    (tmp_path / SESSION_FILE).write_bytes(damaged)
    secret = session_secret(tmp_path)
    assert len(secret) == 32
    assert secret.encode() != damaged
    assert session_secret(tmp_path) == secret


def test_two_pages_never_share_a_port(tmp_path: Path) -> None:
    with RecordingServer(recorder(tmp_path), {}) as one, pytest.raises(OSError, match="in use"):
        RecordingServer(recorder(tmp_path), {}, one.server_port)
