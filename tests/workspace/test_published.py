from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.workspace import published
from builder.workspace.folder import SITE_MARK, Workspace

KEY, OTHER = b"k" * 32, b"o" * 32


def test_the_mark_tells_one_secret_from_another_and_holds_none(tmp_path: Path) -> None:
    out = tmp_path / "public"
    assert published.fingerprint_in(out) == ""
    published.mark(out, KEY)
    assert published.fingerprint_in(out) == published.fingerprint_of(KEY)
    assert published.fingerprint_of(KEY) != published.fingerprint_of(OTHER)
    assert KEY.hex() not in (out / published.FOLDER_MARK).read_text()


def test_a_mark_is_written_once(tmp_path: Path) -> None:
    published.mark(tmp_path, KEY)
    before = (tmp_path / published.FOLDER_MARK).stat().st_mtime_ns
    published.mark(tmp_path, KEY)
    assert (tmp_path / published.FOLDER_MARK).stat().st_mtime_ns == before


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"secret": 1}', '{"secret": ""}', "\xff"])
def test_a_damaged_mark_is_told(tmp_path: Path, text: str) -> None:
    (tmp_path / published.FOLDER_MARK).write_bytes(text.encode("latin-1"))
    with pytest.raises(UsageError, match="damaged"):
        published.fingerprint_in(tmp_path)


@pytest.mark.parametrize("name", ["index.html", "robots.txt", "blog"])
def test_somebodys_own_website_is_refused(tmp_path: Path, name: str) -> None:
    (tmp_path / name).mkdir() if name == "blog" else (tmp_path / name).write_text("welcome")
    with pytest.raises(UsageError, match=f"holds something else \\(`{name}`\\)"):
        published.require_own(tmp_path)
    published.mark(tmp_path, KEY)
    published.require_own(tmp_path)


def test_what_comes_among_the_sites_later_is_told(tmp_path: Path) -> None:
    """Whatever lies there is copied to the web, also a list with names on it."""
    published.mark(tmp_path, KEY)
    for name in (".nojekyll", "CNAME"):
        (tmp_path / name).touch()
    (tmp_path / "robots.txt").write_bytes(b"# " + published.WRITTEN_BY_US)
    (tmp_path / "abcdefghjkmnp").mkdir()
    (tmp_path / "abcdefghjkmnp" / SITE_MARK).write_text('{"site": "abcdefghjkmnp"}')
    assert published.told_others(tmp_path) == ""
    assert published.told_others(tmp_path / "not there yet") == ""
    (tmp_path / "waiting list.txt").touch()
    assert "published with them (`waiting list.txt`)" in published.told_others(tmp_path)


def test_of_many_files_in_the_way_three_are_named(tmp_path: Path) -> None:
    for name in "abcde":
        (tmp_path / name).touch()
    with pytest.raises(UsageError, match=r"\(`a`, `b`, `c` and 2 more\)"):
        published.require_own(tmp_path)


@pytest.mark.parametrize("name", [".git", ".DS_Store", "CNAME"])
def test_what_hosts_and_systems_put_there_is_not_in_the_way(tmp_path: Path, name: str) -> None:
    (tmp_path / name).touch()
    published.require_own(tmp_path)
    published.require_own(tmp_path / "not there yet")


def test_a_folder_from_before_there_was_a_mark_is_known_by_its_sites(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("of an earlier version")
    (tmp_path / "abcdefghjkmnp").mkdir()
    (tmp_path / "abcdefghjkmnp" / SITE_MARK).write_text('{"site": "another"}')
    with pytest.raises(UsageError, match="something else"):
        published.require_own(tmp_path)
    (tmp_path / "abcdefghjkmnp" / SITE_MARK).write_text('{"site": "abcdefghjkmnp"}')
    published.require_own(tmp_path)


@pytest.mark.parametrize(
    ("out", "refused"),
    [
        (".", True),
        ("..", True),
        ("programs", True),
        ("programs/finch-10", True),
        (".practice", True),
        (".practice/store", True),
        ("public", False),
        ("../public", False),
        ("programs-public", False),
    ],
)
def test_no_site_beside_what_must_not_be_published(tmp_path: Path, out: str, refused: bool) -> None:
    root = tmp_path / "clinic"
    (root / "programs").mkdir(parents=True)
    with pytest.raises(UsageError, match="must not") if refused else nullcontext():
        published.require_public(root / out, Workspace(root), [root / "programs"])


def test_programs_may_lie_right_in_the_practice_folder(tmp_path: Path) -> None:
    published.require_public(tmp_path / "public", Workspace(tmp_path), [tmp_path])
