from __future__ import annotations

import json
import os
import threading
from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.site import swap


def site(folder: Path, text: str) -> Path:
    folder.mkdir(parents=True)
    (folder / "index.html").write_text(text)
    return folder


@pytest.fixture(params=["exchange", "two steps"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both ways of swapping; the second is that of systems that cannot exchange."""
    if request.param == "two steps":
        monkeypatch.setattr(swap, "_exchanged", lambda made, target: False)
    return str(request.param)


def test_the_new_site_takes_the_place_of_the_old(tmp_path: Path, way: str) -> None:
    out = tmp_path / "public"
    target = site(out / "a", "old")
    swap.publish(site(swap.new_folder(out) / "site", "new"), target, "index.html")
    assert (target / "index.html").read_text() == "new"
    assert not list(swap.staging(out).glob("*.journal"))


def test_the_first_site_needs_no_swap(tmp_path: Path, way: str) -> None:
    out = tmp_path / "public"
    swap.publish(site(swap.new_folder(out) / "site", "new"), out / "a", "index.html")
    assert (out / "a" / "index.html").read_text() == "new"


@pytest.mark.parametrize("done", [1, 2, 3])
def test_what_a_killed_run_left_is_completed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, done: int
) -> None:
    out = tmp_path / "public"
    target = site(out / "a", "old")
    made = site(swap.new_folder(out) / "site", "new")
    monkeypatch.setattr(swap, "_exchanged", lambda made, target: False)
    real, count = os.rename, iter(range(9))

    def dies(a: Path, b: Path) -> None:
        if next(count) == done:
            raise KeyboardInterrupt
        real(a, b)

    monkeypatch.setattr(os, "rename", dies)
    if done < 3:
        with pytest.raises(KeyboardInterrupt):
            swap.publish(made, target, "index.html")
    else:
        swap.publish(made, target, "index.html")
    monkeypatch.undo()
    with swap.exclusive(out):
        assert (target / "index.html").read_text() == ("old" if done == 1 else "new")
    assert [p.name for p in swap.staging(out).iterdir()] == ["lock"]


def test_a_journal_of_nothing_is_cleared(tmp_path: Path) -> None:
    out = tmp_path / "public"
    target = site(out / "a", "old")
    folder = swap.new_folder(out)
    entry = {"new": str(folder / "gone"), "target": str(target), "old": str(folder / "old")}
    (swap.staging(out) / f"x{swap.JOURNAL}").write_text(json.dumps(entry))
    with swap.exclusive(out):
        pass
    assert (target / "index.html").read_text() == "old"


def test_what_is_not_ours_is_never_deleted(tmp_path: Path) -> None:
    out = tmp_path / "public"
    (out / "a").mkdir(parents=True)
    (out / "a" / "thesis.txt").write_text("years of work")
    made = site(swap.new_folder(out) / "site", "new")
    with pytest.raises(UsageError, match="holds something else"):
        swap.publish(made, out / "a", "index.html")
    assert (out / "a" / "thesis.txt").read_text() == "years of work"


def test_another_run_waits(tmp_path: Path) -> None:
    out, seen = tmp_path / "public", list[str]()

    def publishes() -> None:
        with swap.exclusive(out):
            seen.append("second")

    other = threading.Thread(target=publishes)
    with swap.exclusive(out):
        other.start()
        other.join(0.3)
        seen.append("first")
    other.join()
    assert seen == ["first", "second"]


def test_a_file_is_no_output_folder(tmp_path: Path) -> None:
    (tmp_path / "public").write_text("a file")
    with pytest.raises(UsageError, match="this is a file"), swap.exclusive(tmp_path / "public"):
        pass
    assert [p.name for p in tmp_path.iterdir()] == ["public"]
