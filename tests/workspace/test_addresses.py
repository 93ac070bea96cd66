from __future__ import annotations

import stat
from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.workspace.addresses import SLUG_ALPHABET, secret, slug
from builder.workspace.folder import SITE_MARK, Workspace


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n")
    return Workspace(tmp_path)


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


def test_no_new_secret_where_sites_were_built(workspace: Workspace) -> None:
    (workspace.hidden / "stamps.json").write_text("{}")
    with pytest.raises(UsageError, match="secret is missing"):
        secret(workspace, workspace.root / "elsewhere")


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
