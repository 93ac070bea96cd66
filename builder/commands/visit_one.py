"""A visit of one client: what is known is shown, then what would change; then it is written."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from pathlib import Path

from builder.checks.findings import listed
from builder.checks.pause import pauses_of
from builder.commands.clock import today
from builder.commands.run import nothing_written
from builder.commands.visit_agreed import Outcome, may_write, stopped_before_writing
from builder.commands.visit_asked import ask_in_turn
from builder.commands.visit_change import Change
from builder.commands.visit_checked import day_of, file_of, program_at, session_day
from builder.commands.visit_heard import in_log
from builder.drafting.visit.refresh_lines import Lines
from builder.drafting.visit.short_sitting import short_sitting
from builder.model.program import Client, Program
from builder.practice.figures.client_log import client_log
from builder.practice.figures.planned import timetable
from builder.practice.log.scores import VisitScore
from builder.practice.visit.speak import against, further, known, proposals, uncounted
from builder.practice.visit.told import Told, told, with_heard
from builder.practice.visit.written import write
from builder.problems import standing
from builder.text.several import several
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import find


def visit(args: argparse.Namespace, ask: bool, whole: bool = False) -> Outcome:
    """One program of a client. ask: for whatever was not typed, in turn; whole: all of the
    client's programs are visited, one after the other."""
    with nothing_written():
        file, client = file_of(args)
        before = file.read_bytes()
    workspace = find(file)
    site = slug(secret(workspace), client.code)
    with stopped_before_writing(client):
        change = _worked_out(args, file, before, client, site, ask, whole)
        if not change.differs and not change.heard:
            print(f"{file}: nothing changes.")
            return "nothing"
        if not may_write(args, change):
            return "declined"
    write(workspace, change.writing(site))
    which = f" --sound {args.sound}" if args.sound else ""
    print(f"{file}: written. `practice-site visit {args.file}{which} --undo` brings it back.")
    return _left_to_do(args, change)


def _worked_out(
    args: argparse.Namespace,
    file: Path,
    text: bytes,
    client: Client,
    site: str,
    ask: bool,
    whole: bool,
) -> Change:
    """What is known is told, what was not typed is asked for, and what would change is shown."""
    with nothing_written():
        session = session_day(args.day, today())
    program, log = program_at(client, file), client_log(find(file), site)
    days = timetable(client.programs, pauses_of(client))

    def with_scores(scores: Iterable[VisitScore]) -> Told:
        return told(program, with_heard(log, scores), days, session)

    before = with_scores(())
    first, *rest = known(before)
    print(f"{client.code}: {first}")
    for line in rest:
        print(f"    {line}")
    if ask or not args.score:
        _print_proposals(program, before)
    if ask:
        ask_in_turn(args, text.decode("utf-8"), program, client, site, with_scores)
    with nothing_written():
        change = Change.of(args, file, text, client, site)
    now = with_scores(change.heard.scores)
    if args.score and not ask:
        _print_proposals(program, now, with_score=True)
    _show(change)
    for line in (
        *_instead(change.heard.scores, log.visit_scores),
        *(() if ask else uncounted(change.old, change.heard.scores)),
        *against(change.old, change.new, now),
        *_of_dates(args.next, change),
    ):
        print(line)
    _show_findings(change)
    if not whole:
        _show_others(change)
    return change


def _print_proposals(program: Program, now: Told, with_score: bool = False) -> None:
    for line in (*proposals(now, with_score), *further(program, now)):
        print(f"    {line}")


def _show(change: Change) -> None:
    """What would change."""
    print(change.difference())
    for step in change.lines:
        _tell_lines(step)
    if change.refitted and (short := short_sitting(change.client)):
        print(f"    {short}")
    if change.unlined:
        words = listed([f"'{word}'" for word in change.unlined])
        print(f"    no line was drafted with {words}: write your own")
    for line in in_log(change.heard):
        print(f"into the log: {line}")


def _instead(scores: Iterable[VisitScore], there: Iterable[VisitScore]) -> Iterator[str]:
    """Scores of the same kind and day, which stand once in the log."""
    known = {one.kind: one for one in there}
    for one in scores:
        old = known.get(one.kind)
        if old and (old.correct, old.of) != (one.correct, one.of):
            yield f"It takes the place of {old.correct} of {old.of}, typed before for {one.date}."


def _of_dates(asked: str, change: Change) -> Iterator[str]:
    """Where the visit is moved past a pause, and where none is to come."""
    written = change.new.written.practice.visit
    if asked and written and day_of(asked, today()) != written:
        yield f"{day_of(asked, today())} falls into a pause: the visit is written for {written}."
    if written and written <= today():
        yield (
            f"No visit is to come: {written} is written. Without the next one no sheet is printed, "
            "since all of its days are over."
        )


def _show_findings(change: Change) -> None:
    """Those that stop a build, and those that the visit brings; the others are counted."""
    told = {*standing(change.findings), *change.fresh}
    for found in change.findings:
        if found in told:
            print(found)
    if rest := sum(not one.accepted for one in change.findings if one not in told):
        pieces = several(rest, "other finding")
        print(f"{pieces} as before: see `practice-site check {change.client.code}`.")


def _show_others(change: Change) -> None:
    """The client's other programs, whose visit is still the old one."""
    for other in change.waiting:
        print(
            f"{Path(other.file).name} still has the visit on {other.written.practice.visit}: "
            f"`practice-site visit {change.client.code} --sound {other.written.sound} "
            f"--next {change.new.written.practice.visit}` moves it too."
        )


def _tell_lines(lines: Lines) -> None:
    for head, found in (("out", lines.gone), ("in", lines.new)):
        if found:
            print(f"    {lines.name}, {head}: {' · '.join(found)}")
    if lines.still:
        still = " · ".join(lines.still)
        print(f"    {lines.name}: still with a word that is out, yours to change: {still}")


def _left_to_do(args: argparse.Namespace, change: Change) -> Outcome:
    code = change.client.code
    faults = len(standing(change.findings))
    if faults:
        print(
            f"Still to do: {several(faults, 'fault')} to mend, then "
            f"`practice-site build {code}` and `practice-site print {code}`."
        )
        return "fault"
    if not args.make:
        print(f"Still to do: `practice-site build {code}`, `practice-site print {code}`.")
    return "written"
