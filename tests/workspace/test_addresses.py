from __future__ import annotations

import errno
import os
import secrets
import stat
import threading
from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.workspace import addresses, published
from builder.workspace.addresses import SLUG_ALPHABET, readable_by_others, secret, slug
from builder.workspace.folder import SITE_MARK, Workspace
from builder.workspace.store import write_new


def test_the_secret_stays_and_is_private(workspace: Workspace) -> None:
    first = secret(workspace)
    assert secret(workspace) == first
    assert len(first) == 32
    assert stat.S_IMODE((workspace.hidden / "secret").stat().st_mode) == 0o600


def test_no_new_secret_where_sites_are_published(workspace: Workspace) -> None:
    (workspace.root / "public" / "a").mkdir(parents=True)
    (workspace.root / "public" / "a" / SITE_MARK).write_text("{}")
    with pytest.raises(UsageError, match="secret is missing"):
        secret(workspace, workspace.root / "public")
    assert not (workspace.hidden / "secret").exists()


def test_a_folder_made_with_another_secret_is_refused(workspace: Workspace, tmp_path: Path) -> None:
    out = tmp_path / "public"
    published.mark(out, b"k" * 32)
    (workspace.hidden / "secret").write_text((b"k" * 32).hex())
    assert secret(workspace, out) == b"k" * 32
    (workspace.hidden / "secret").write_text("ab" * 32)
    with pytest.raises(UsageError, match="another secret"):
        secret(workspace, out)
    assert secret(workspace, tmp_path / "another") == b"\xab" * 32


def test_no_new_secret_for_a_folder_that_has_been_emptied_of_sites(
    workspace: Workspace, tmp_path: Path
) -> None:
    published.mark(tmp_path / "public", b"k" * 32)
    with pytest.raises(UsageError, match="secret is missing"):
        secret(workspace, tmp_path / "public")
    assert not (workspace.hidden / "secret").exists()


@pytest.mark.parametrize("stamps", ['{"a site": {}}', "{damaged"])
def test_no_new_secret_where_sites_were_built(workspace: Workspace, stamps: str) -> None:
    (workspace.hidden / "stamps.json").write_text(stamps)
    with pytest.raises(UsageError, match="secret is missing"):
        secret(workspace, workspace.root / "elsewhere")


def test_two_first_builds_at_once_agree_on_the_secret(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    together, found = threading.Barrier(8), []
    random = secrets.token_bytes

    def at_once(size: int) -> bytes:  # all of them have seen that there is none
        together.wait()
        return random(size)

    monkeypatch.setattr(secrets, "token_bytes", at_once)
    threads = [threading.Thread(target=lambda: found.append(secret(workspace))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 8
    assert set(found) == {secret(workspace)}
    assert [file.name for file in workspace.hidden.iterdir()] == ["secret"]


def test_a_build_that_comes_second_takes_the_secret_that_the_first_published_with(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    def first_is_quicker(workspace: Workspace, out: Path | None) -> str:
        (workspace.hidden / "secret").write_text("ab" * 32)
        return "sites were built here before"

    monkeypatch.setattr(addresses, "_why_not_made", first_is_quicker)
    assert secret(workspace) == b"\xab" * 32


def test_the_secret_is_exclusive_on_a_disk_that_cannot_link(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cannot(source: str, target: Path) -> None:
        raise PermissionError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", cannot)
    assert secret(workspace) == secret(workspace)
    assert stat.S_IMODE((workspace.hidden / "secret").stat().st_mode) == 0o600
    with pytest.raises(FileExistsError):
        write_new(workspace.hidden / "secret", b"another")


@pytest.mark.skipif(os.name != "posix", reason="only there do files have a mode for others")
@pytest.mark.parametrize(
    ("folder", "file", "told"),
    [(0o755, 0o644, True), (0o711, 0o640, True), (0o700, 0o644, False), (0o755, 0o600, False)],
)
def test_a_secret_that_others_can_read_is_remarked_upon(
    workspace: Workspace, folder: int, file: int, told: bool
) -> None:
    secret(workspace)
    (workspace.hidden / "secret").chmod(file)
    workspace.hidden.chmod(folder)
    remark = readable_by_others(workspace)
    assert bool(remark) == told
    assert ("`chmod 700 " in remark) == told


@pytest.mark.parametrize("damage", ["not hex", "", "ab", "00" * 31])
def test_a_damaged_secret_is_not_replaced(workspace: Workspace, damage: str) -> None:
    (workspace.hidden / "secret").write_text(damage)
    with pytest.raises(UsageError, match="damaged"):
        secret(workspace)


def test_slugs() -> None:
    names = {slug(b"key", f"heron-{n:02}") for n in range(100)} | {slug(b"other", "heron-01")}
    assert len(names) == 101
    assert all(len(name) == 13 and set(name) <= set(SLUG_ALPHABET) for name in names)
    assert len(SLUG_ALPHABET) == 32  # 5 bits a letter: 65 bits
    assert not set("ilou") & set(SLUG_ALPHABET)
    assert slug(b"key", "heron-01") == slug(b"key", "heron-01")
