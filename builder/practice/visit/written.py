"""A visit written, or taken back: the former version, the log and the program file belong together.

What is to be done stands first in a journal of its own. When a command is stopped on the way, the
next one finds it there and does the rest, so that no score stays without its step.
"""

from __future__ import annotations

import datetime
import json
import os
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from builder.practice.log import file as log_file
from builder.practice.log.rows import Log, opened
from builder.practice.log.scores import VisitNote, VisitScore
from builder.problems import UsageError
from builder.workspace import former
from builder.workspace.folder import Workspace
from builder.workspace.network_share import held
from builder.workspace.stamps import JOURNAL
from builder.workspace.store import require_room_for, rewrite, write_private

WAITS = "Do not type this visit again: the next command writes the rest of it."
IN_USE = f"{log_file.IN_USE} by a visit"  # held while one is written; in no backup


@dataclass(frozen=True)
class Heard:
    """What of a visit belongs into the log. replaced: scores of the same day that stood there in
    the place of these."""

    scores: tuple[VisitScore, ...] = ()
    notes: tuple[VisitNote, ...] = ()
    replaced: tuple[VisitScore, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.scores or self.notes)


@dataclass(frozen=True, kw_only=True)
class Writing:
    """A visit to be written, or one to be taken back, whose former version `kept` goes then.

    file: the program; before, after: its texts. day: on which it is entered, in ISO form.
    """

    code: str
    site: str
    file: Path
    before: str
    after: str
    heard: Heard
    day: str
    kept: Path | None = None


@dataclass(frozen=True)
class Finished:
    """A visit that was stopped on the way. file_too: whether the program is as it should be; else
    somebody changed it since, and it was left alone."""

    code: str
    file: Path
    file_too: bool


def write(workspace: Workspace, one: Writing) -> None:
    """Do it. Raises, with nothing written, UsageError where the file was changed meanwhile, and
    OSError where it cannot be written."""
    with held(workspace.hidden / IN_USE):
        _finish(workspace)
        require_unchanged(one.file, one.before.encode())
        require_room_for(one.file, one.after.encode())
        one = one if one.kept else replace(one, heard=_with_replaced(workspace, one))
        write_private(workspace.root / JOURNAL, _as_json(workspace, one).encode())
        _carry_out_or_drop(workspace, one)


def require_unchanged(file: Path, before: bytes) -> None:
    """Raises UsageError where a file is no longer what was read, and answered for."""
    if file.read_bytes() != before:
        raise UsageError(
            f"{file}: it was changed meanwhile; nothing was written. Type the visit again."
        )


def finish(root: Path) -> Finished | None:
    """Do the rest of a visit that was stopped on the way in the practice folder `root`."""
    if not (root / JOURNAL).is_file():
        return None
    workspace = Workspace(root)
    with held(workspace.hidden / IN_USE):
        return _finish(workspace)


def heard_in(told: Any, site: str) -> Heard:
    """What was kept with a former version, as `_kept_with` writes it; before there were notes it
    was the list of scores alone."""
    kept = told if isinstance(told, dict) else {"scores": told, "notes": []}
    day = datetime.date.fromisoformat

    def scores(rows: Any) -> tuple[VisitScore, ...]:
        return tuple(VisitScore(site, day(date), *rest) for date, *rest in rows)

    return Heard(
        scores(kept["scores"]),
        tuple(VisitNote(site, day(date), note) for date, note in kept["notes"]),
        scores(kept.get("replaced", ())),
    )


def _kept_with(heard: Heard) -> dict[str, Any]:
    def rows(scores: Iterable[VisitScore]) -> list[list[Any]]:
        return [
            [str(s.date), s.sound, s.step, s.support, s.correct, s.of, s.probe, s.note]
            for s in scores
        ]

    return {
        "scores": rows(heard.scores),
        "replaced": rows(heard.replaced),
        "notes": [[str(n.date), n.note] for n in heard.notes],
    }


def _with_replaced(workspace: Workspace, one: Writing) -> Heard:
    if not one.heard.scores:
        return one.heard
    with opened(workspace.hidden) as log:
        there = log.scores(one.site)
    new = {score.kind for score in one.heard.scores}
    return replace(one.heard, replaced=tuple(score for score in there if score.kind in new))


def _finish(workspace: Workspace) -> Finished | None:
    journal = workspace.root / JOURNAL
    try:
        one = _from_json(workspace, journal.read_text("utf-8"))
    except FileNotFoundError:
        return None
    except (ValueError, KeyError, TypeError, RecursionError):
        raise UsageError(f"{journal}: it is damaged. Delete it, and look at your log.") from None
    return Finished(one.code, one.file, _carry_out(workspace, one))


def _carry_out_or_drop(workspace: Workspace, one: Writing) -> None:
    """A step up to that into the log which fails has changed nothing that tells: the visit is
    dropped, to be typed again. One that fails later leaves it to the next command."""
    up_to_log = 1 if one.kept else 2
    for number, step in enumerate(_steps(workspace, one)):
        try:
            step()
        except (OSError, UsageError) as problem:
            if number < up_to_log:
                _drop(workspace, one)
            else:
                problem.add_note(WAITS)
            raise


def _drop(workspace: Workspace, one: Writing) -> None:
    there = former.find_after(workspace, one.site, one.file, one.after.encode())
    if there and not one.kept and there.told == _kept_with(one.heard):
        there.kept.unlink(missing_ok=True)
    (workspace.root / JOURNAL).unlink(missing_ok=True)


def _carry_out(workspace: Workspace, one: Writing) -> bool:
    """Whether the file is as it should be in the end."""
    for step in _steps(workspace, one):
        step()
    return _is(one.file, one.after)


def _steps(workspace: Workspace, one: Writing) -> tuple[Callable[[], None], ...]:
    """In this order, each of them such that it may be done twice."""
    steps = (_enter, _write_file, _forget_kept) if one.kept else (_keep, _enter, _write_file)
    journal = workspace.root / JOURNAL
    return (
        *(partial(step, workspace, one) for step in steps),
        partial(journal.unlink, missing_ok=True),
    )


def _keep(workspace: Workspace, one: Writing) -> None:
    if not _is(one.file, one.before):
        return
    before, after, told = one.before.encode(), one.after.encode(), _kept_with(one.heard)
    there = former.find_after(workspace, one.site, one.file, after)
    if there is None or (there.before, there.told) != (before, told):
        former.keep(workspace, one.site, one.file, after, told)


def _enter(workspace: Workspace, one: Writing) -> None:
    if not one.heard:
        return
    with opened(workspace.hidden) as log, log.writing():
        if one.kept:
            _take_out(log, one.heard)
            for score in one.heard.replaced:
                log.put_score(score, one.day)
            return
        log.add_client(one.site, one.code)
        for score in one.heard.scores:
            log.put_score(score, one.day)
        for note in one.heard.notes:
            log.put_visit_note(note, one.day)


def _take_out(log: Log, heard: Heard) -> None:
    for score in heard.scores:
        log.remove_score(score)
    for note in heard.notes:
        log.remove_visit_note(note)


def _write_file(_workspace: Workspace, one: Writing) -> None:
    if one.before != one.after and _is(one.file, one.before):
        rewrite(one.file, one.after.encode())


def _forget_kept(_workspace: Workspace, one: Writing) -> None:
    if one.kept and _is(one.file, one.after):
        one.kept.unlink(missing_ok=True)


def _is(file: Path, text: str) -> bool:
    with suppress(OSError):
        return file.read_bytes() == text.encode()
    return False


def _as_json(workspace: Workspace, one: Writing) -> str:
    """Paths as seen from the practice folder, which may be a share that others see elsewhere."""

    def from_root(file: Path) -> str:
        return os.path.relpath(file.resolve(), workspace.root.resolve())

    values = asdict(one) | {"heard": _kept_with(one.heard), "file": from_root(one.file)}
    values["kept"] = from_root(one.kept) if one.kept else ""
    return json.dumps(values, ensure_ascii=False)


def _from_json(workspace: Workspace, text: str) -> Writing:
    values = json.loads(text)
    values["heard"] = heard_in(values["heard"], values["site"])
    values["file"] = workspace.root / values["file"]
    values["kept"] = workspace.root / values["kept"] if values["kept"] else None
    return Writing(**values)
