"""Former version, log and program belong together, wherever a command is stopped."""

from __future__ import annotations

import argparse
import datetime
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from builder.commands.run import run
from builder.practice.log.rows import opened
from builder.practice.log.scores import VisitNote, VisitScore
from builder.practice.visit import written
from builder.practice.visit.written import Heard, Writing, finish, heard_in, write
from builder.problems import UsageError
from builder.workspace import former
from builder.workspace.folder import Workspace
from builder.workspace.stamps import JOURNAL
from tests.support.from_home import CODE, SITE

DAY = datetime.date(2026, 12, 3)
SCORE = VisitScore(SITE, DAY, "K", "k-words", "spontaneous", 17, 20, note="calm")
NOTE = VisitNote(SITE, DAY, "ünd a − note")
STEPS = 4  # of a visit, and of taking one back


class Stopped(BaseException):
    """As a kill would."""


@pytest.fixture
def visit(tmp_path: Path) -> Writing:
    (tmp_path / "programs").mkdir()
    file = tmp_path / "programs" / f"{CODE}.yaml"
    file.write_bytes(b"current: words\r\n")
    return Writing(
        code=CODE,
        site=SITE,
        file=file,
        before="current: words\r\n",
        after="current: phrases\r\n",
        heard=Heard((SCORE,), (NOTE,)),
        day="2026-12-03",
    )


def state(one: Writing) -> tuple[str, int, int, int, bool]:
    """The program's text; scores, notes and former versions; whether a journal is left."""
    space = Workspace(one.file.parent.parent)
    with opened(space.hidden, lambda _: False) as log:
        in_log = len(log.scores()), len(log.visit_notes())
    kept = list((space.hidden / former.FOLDER).rglob("*.json"))
    journal = (space.root / JOURNAL).exists()
    return (one.file.read_bytes().decode(), *in_log, len(kept), journal)


def back(one: Writing) -> Writing:
    """The same taken back."""
    found = former.find(Workspace(one.file.parent.parent), SITE, one.file)
    assert found
    return replace(one, before=one.after, after=one.before, kept=found.kept)


def stop(monkeypatch: pytest.MonkeyPatch, at: int, done: bool) -> None:
    """Stop before the step `at`, or right after it was done."""
    real = written._steps

    def steps(space: Workspace, one: Writing) -> tuple[Callable[[], None], ...]:
        every = list(real(space, one))
        assert len(every) == STEPS

        def kill(step: Callable[[], None] = every[at]) -> None:
            if done:
                step()
            raise Stopped

        every[at] = kill
        return tuple(every)

    monkeypatch.setattr(written, "_steps", steps)


@pytest.mark.parametrize("undone", [False, True], ids=["a visit", "taken back"])
@pytest.mark.parametrize("done", [False, True], ids=["before", "after"])
@pytest.mark.parametrize("at", range(STEPS))
def test_stopped_anywhere_it_is_finished(
    visit: Writing, monkeypatch: pytest.MonkeyPatch, at: int, done: bool, undone: bool
) -> None:
    space = Workspace(visit.file.parent.parent)
    wanted = visit
    if undone:
        write(space, visit)
        wanted = back(visit)
    with monkeypatch.context() as patch:
        stop(patch, at, done)
        with pytest.raises(Stopped):
            write(space, wanted)
    finished = finish(space.root)
    assert (finished is None) == (done and at == STEPS - 1)
    assert finish(space.root) is None
    end = ("current: words\r\n", 0, 0, 0) if undone else ("current: phrases\r\n", 1, 1, 1)
    assert state(visit) == (*end, False)


@pytest.mark.parametrize("at", range(3))
def test_what_she_changed_meanwhile_stays_and_her_score_is_kept(
    visit: Writing, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    space = Workspace(visit.file.parent.parent)
    with monkeypatch.context() as patch:
        stop(patch, at, done=False)
        with pytest.raises(Stopped):
            write(space, visit)
    visit.file.write_text("hers")
    finished = finish(space.root)
    assert finished
    assert not finished.file_too
    assert state(visit)[:3] == ("hers", 1, 1)


def test_the_next_visit_finishes_the_one_that_was_stopped(
    visit: Writing, monkeypatch: pytest.MonkeyPatch
) -> None:
    space = Workspace(visit.file.parent.parent)
    with monkeypatch.context() as patch:
        stop(patch, 1, done=False)
        with pytest.raises(Stopped):
            write(space, visit)
    write(space, replace(visit, before=visit.after, after="current: talk\r\n", heard=Heard()))
    assert state(visit) == ("current: talk\r\n", 1, 1, 2, False)


def test_a_file_that_changed_is_left_alone(visit: Writing) -> None:
    visit.file.write_text("hers")
    with pytest.raises(UsageError, match="changed meanwhile"):
        write(Workspace(visit.file.parent.parent), visit)
    assert state(visit) == ("hers", 0, 0, 0, False)


def _refused(file: Path, data: bytes) -> None:
    raise PermissionError(13, "Permission denied", str(file))


def test_a_file_that_cannot_be_written_leaves_all_as_it_was(
    visit: Writing, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A test may run as one whom no protection stops, so it is played."""
    for name in ("rewrite", "require_room_for"):
        monkeypatch.setattr(written, name, _refused)
    with pytest.raises(PermissionError):
        write(Workspace(visit.file.parent.parent), visit)
    assert state(visit) == ("current: words\r\n", 0, 0, 0, False)


@pytest.mark.parametrize("step", ["_keep", "_enter"])
def test_a_log_that_cannot_be_written_leaves_all_as_it_was(
    visit: Writing, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    """Else the next command would write it, and the same visit, typed again, come on top."""

    def full(*_: object) -> None:
        raise UsageError("the log cannot be written")

    with monkeypatch.context() as patch:
        patch.setattr(written, step, full)
        with pytest.raises(UsageError, match="cannot be written"):
            write(Workspace(visit.file.parent.parent), visit)
    assert state(visit) == ("current: words\r\n", 0, 0, 0, False)


def test_what_is_left_to_write_and_cannot_be_is_told(
    visit: Writing, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    root = visit.file.parent.parent
    (root / "mkdocs.yml").touch()
    monkeypatch.chdir(root)
    monkeypatch.setattr(written, "rewrite", _refused)
    with pytest.raises(PermissionError) as told:
        write(Workspace(root), visit)
    assert told.value.__notes__ == [written.WAITS]
    assert run(lambda _: 0, argparse.Namespace()) == 2
    said = capsys.readouterr().err
    assert f"{visit.file}: Permission denied. Once that is mended" in said


def test_a_damaged_journal_is_told(visit: Writing) -> None:
    space = Workspace(visit.file.parent.parent)
    assert space.hidden.is_dir()
    (space.root / JOURNAL).write_text("{")
    with pytest.raises(UsageError, match="damaged"):
        finish(space.root)


def test_a_note_alone_of_the_same_text_is_taken_back_alone(visit: Writing) -> None:
    space = Workspace(visit.file.parent.parent)
    same = replace(visit, after=visit.before)
    for heard in (Heard((SCORE,)), Heard((), (NOTE,))):
        write(space, replace(same, heard=heard))
    newest = former.find(space, SITE, visit.file)
    assert newest
    assert heard_in(newest.told, SITE) == Heard((), (NOTE,))
    write(space, replace(same, heard=Heard((), (NOTE,)), kept=newest.kept))
    assert state(visit) == ("current: words\r\n", 1, 0, 1, False)


def test_scores_kept_before_there_were_notes_are_read() -> None:
    told = [["2026-12-03", "K", "k-words", "spontaneous", 17, 20, False]]
    assert heard_in(told, SITE) == Heard((replace(SCORE, note=""),))
