"""What former versions of programs tell of sheets that are over."""

from __future__ import annotations

import datetime
from pathlib import Path

from builder.practice.former_sheets import FormerSheet, former_sheets, practiced_since
from builder.workspace import former
from builder.workspace.folder import Workspace

SITE = "0123456789abc"


def kept(space: Workspace, name: str, *versions: str) -> None:
    """Former versions of a program, oldest first."""
    file = space.root / name
    for text in versions:
        file.write_text(text)
        former.keep(space, SITE, file, b"another", {})


def day(number: int) -> datetime.date:
    return datetime.date(2026, 12, number)


def test_dates_are_found_as_programs_may_write_them(tmp_path: Path) -> None:
    space = Workspace(tmp_path)
    kept(
        space,
        "a.yaml",
        "# visit: 2026-12-01\npractice: {days: [mon],\n# a\n from: 2026-12-01, visit: 2026-12-07}\n"
        "words: [key]\n",
        "practice:\n  from: '2026-12-09'\n  visit: 2026-12-14\n",
        "practice: {from: 2026-12-09, visit: 2026-12-16}",  # put off
        "practice: {from: 2026-12-09, visit: 2026-12-16}\nwords: [key, cow]\n",
    )
    kept(space, "a-s.yaml", "practice: {from: 2026-12-02}\n", "practice: {visit: soon}\n")
    kept(space, "b.yaml", "practice: [\n", "practice: two\n", "# none\n")
    (tmp_path / ".practice" / former.FOLDER / SITE / "a-s.yaml 000009.json").write_text("{")
    assert former_sheets(space, SITE) == {
        FormerSheet(day(7), day(9)),
        FormerSheet(day(16)),
    }


def test_nothing_is_known_without_former_versions(tmp_path: Path) -> None:
    assert former_sheets(Workspace(tmp_path), SITE) == frozenset()


def test_steps_are_practiced_since_the_first_sheet_that_has_them() -> None:
    words = "practice: {from: 2026-12-09}\ncurrent: words\nsteps: []\n"
    again = "current: # two of them\n- words\npractice:\n  from: 2026-12-16\n"
    both = "practice: {from: 2026-12-02}\ncurrent: [words, phrases]\n"
    undated = "current: words\n"
    assert practiced_since([both, words, again], ["words"]) == day(9)
    assert practiced_since([words, both, again], ["words"]) == day(16)
    assert practiced_since([words, undated], ["words"]) == day(9)
    assert practiced_since([words, both], ["phrases", "words"]) == day(2)
    assert practiced_since([words], ["phrases"]) is None
    assert practiced_since([words, "current: [", "# none"], ["words"]) is None
