"""A visit of one client: what is known is shown first, then what would change; then it is written,
or the last one is taken back."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Literal

from builder.checks.findings import listed
from builder.checks.pause import pauses_of
from builder.commands.clock import today
from builder.commands.paths import files_of
from builder.commands.run import nothing_written
from builder.commands.sounds import sound_of
from builder.commands.visit_asked import ask_in_turn
from builder.commands.visit_change import Change
from builder.drafting.visit.refresh_lines import Lines
from builder.model.program import Client, Program
from builder.practice.figures.client_log import client_log
from builder.practice.log.scores import VisitScore
from builder.practice.visit.speak import against, further, known, proposals, uncounted
from builder.practice.visit.told import Told, told, with_heard
from builder.practice.visit.written import Heard, Writing, heard_in, write
from builder.problems import UsageError, standing
from builder.program_file.load import clients, program_of
from builder.workspace import former
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import find

Outcome = Literal["written", "nothing", "declined", "fault"]
"""nothing: that would change; fault: it is written, and a fault stands in the program."""


def visit(args: argparse.Namespace, ask: bool) -> Outcome:
    """One client. ask: nothing was typed, so ask in turn."""
    with nothing_written():
        file, client = _file_of(args)
    program = next(one for one in client.programs if Path(one.file) == file)
    workspace, day = find(file), today()
    site = slug(secret(workspace), client.code)
    log = client_log(workspace, site)

    def with_scores(scores: Iterable[VisitScore]) -> Told:
        return told(program, with_heard(log, scores), pauses_of(client), day)

    before = with_scores(())
    first, *rest = known(before)
    print(f"{client.code}: {first}")
    for line in rest:
        print(f"    {line}")
    if ask or not args.score:
        _print_proposals(program, before)
    if ask:
        ask_in_turn(args, program, site, with_scores)
    with nothing_written():
        change = Change.of(args, file, client, site)
    now = with_scores(change.heard.scores)
    if args.score and not ask:
        _print_proposals(program, now, today_scored=True)
    _show(change, now)
    if not change.differs and not change.heard:
        print(f"{file}: nothing changes.")
        return "nothing"
    if not args.yes and not _agreed(f"Write this into {file}? [y/N] "):
        print("Nothing was written.")
        return "declined"
    write(workspace, change.writing(site))
    which = f" --sound {args.sound}" if args.sound else ""
    print(f"{file}: written. `practice-site visit {args.file}{which} --undo` brings it back.")
    return _left_to_do(args, change)


def undo(args: argparse.Namespace) -> Outcome:
    """Take the last visit back. Raises UsageError where there is none, or the file was changed."""
    with nothing_written():
        file, client = _file_of(args)
    workspace = find(file)
    site = slug(secret(workspace), client.code)
    found = former.find(workspace, site, file)
    if found is None:
        kept = former.newest(workspace, site, file)
        where = f" It was changed since; what it was then is kept in {kept}." if kept else ""
        raise UsageError(f"{file}: there is no visit to take back.{where}")
    heard = heard_in(found.told, site)
    texts = {"before": file.read_bytes().decode(), "after": found.before.decode()}
    back = Writing(
        code=client.code,
        site=site,
        file=file,
        heard=heard,
        day=str(today()),
        kept=found.kept,
        **texts,
    )
    write(workspace, back)
    gone = f"; out of the log: {', '.join(_heard(heard))}" if heard else ""
    back_in = ", ".join(map(_told_of, heard.replaced))
    again = f"; in it again: {back_in}" if back_in else ""
    print(f"{file}: as it was before the visit{gone}{again}.")
    return "written"


def _print_proposals(program: Program, now: Told, today_scored: bool = False) -> None:
    for line in (*proposals(now, today_scored), *further(program, now)):
        print(f"    {line}")


def _show(change: Change, now: Told) -> None:
    """What would change, and what goes against the figures."""
    print(change.difference())
    for step in change.lines:
        _tell_lines(step)
    if change.unlined:
        words = listed([f"'{word}'" for word in change.unlined])
        print(f"    no line was drafted with {words}: write your own")
    for line in _heard(change.heard):
        print(f"into the log: {line}")
    for line in (
        *uncounted(change.old, change.heard.scores),
        *against(change.old, change.new, now),
    ):
        print(line)
    for found in change.checked.findings:
        print(found)
    for other in change.waiting:
        print(
            f"{Path(other.file).name} still has the visit on {other.written.practice.visit}: "
            f"`practice-site visit {change.client.code} --sound {other.written.sound} "
            f"--next {change.new.written.practice.visit}` moves it too."
        )


def _heard(heard: Heard) -> Iterator[str]:
    yield from map(_told_of, heard.scores)
    yield from (f"{note.date}: {note.note}" for note in heard.notes)


def _told_of(score: VisitScore) -> str:
    how = "without a model" if score.support == "spontaneous" else "with a model"
    what = ", words kept out of practice" if score.probe else ""
    note = f" ({score.note})" if score.note else ""
    return f"{score.date} {score.step}: {score.correct} of {score.of}, {how}{what}{note}"


def _tell_lines(lines: Lines) -> None:
    for head, found in (("out", lines.gone), ("in", lines.new)):
        if found:
            print(f"    {lines.name}, {head}: {' · '.join(found)}")
    if lines.still:
        still = " · ".join(lines.still)
        print(f"    {lines.name}: still with a word that is out, yours to change: {still}")


def _agreed(question: str) -> bool:
    try:
        return input(question).strip().lower() in ("y", "yes")
    except EOFError:
        return False


def _left_to_do(args: argparse.Namespace, change: Change) -> Outcome:
    code = change.client.code
    faults = len(standing(change.checked.findings))
    if faults:
        print(
            f"Still to do: {faults} fault{'' if faults == 1 else 's'} to mend, then "
            f"`practice-site build {code}` and `practice-site print {code}`."
        )
        return "fault"
    if not args.make:
        print(f"Still to do: `practice-site build {code}`, `practice-site print {code}`.")
    return "written"


def _file_of(args: argparse.Namespace) -> tuple[Path, Client]:
    """The one program that is meant, and its client. Raises UsageError where several could be."""
    files = files_of(argparse.Namespace(files=[args.file]))
    (client,) = clients(files)
    if args.sound:
        sound = sound_of(args.sound)
        files = [file for file in files if program_of(file, client.clinic).sound == sound]
        if not files:
            raise UsageError(f"{client.code}: no program practices /{sound.ipa}/.")
    if len(files) > 1:
        programs = (program_of(file, client.clinic) for file in files)
        sounds = " or ".join(f"`--sound {program.written.sound}`" for program in programs)
        raise UsageError(
            f"{client.code}: this client has several programs. Add {sounds}, or name its file."
        )
    return files[0], client
