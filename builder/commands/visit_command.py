"""practice-site visit: what a session changes in a client's program, in one command."""

from __future__ import annotations

import argparse
import datetime
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from builder.commands import options
from builder.commands.run import nothing_written
from builder.problems import UsageError

if TYPE_CHECKING:
    from builder.commands.visit_change import Change
    from builder.drafting.visit.refresh_lines import Lines
    from builder.model.program import Client
    from builder.practice.log.scores import VisitScore

ABOUT = "write what a session changes: score, step, words, dates"
ASKED = ("score", "to", "tried", "drop", "add", "next", "note")


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `visit`."""
    options.program(parser)
    parser.add_argument("--sound", default="", metavar="S", help="of a client with several")
    parser.add_argument(
        "--score", default="", metavar="N/N", help="correct of all, as in 17/20: into the log"
    )
    parser.add_argument(
        "--step", default="", metavar="STEP", help="what was scored, where several are practiced"
    )
    parser.add_argument("--no-model", action="store_true", help="it was said without a model")
    parser.add_argument("--probe", action="store_true", help="of words kept out of practice")
    parser.add_argument("--to", default="", metavar="STEP", help="what is practiced next, by name")
    parser.add_argument(
        "--tried", default="", metavar="N/N", help="how that step went in the room: its baseline"
    )
    parser.add_argument("--drop", default="", metavar="WORDS", help="words that go, as in cow,key")
    parser.add_argument("--add", default="", metavar="WORDS", help="words that come")
    parser.add_argument("--next", default="", metavar="DAY", help="next visit, as in 2026-12-14")
    parser.add_argument("--note", default="", help="a remark beside the score, in the log")
    parser.add_argument("--yes", action="store_true", help="write without asking")
    parser.add_argument("--undo", action="store_true", help="bring the file back as it was")
    parser.add_argument("--make", action="store_true", help="then build and print this client")


def run(args: argparse.Namespace) -> int:
    """Show what would change, ask, and write it; exit code 1 where a fault then stands."""
    with nothing_written():
        file, client = _file_of(args)
    if args.undo:
        return _undo(file, client)
    if not any(getattr(args, name) for name in ASKED):
        _ask_in_turn(args)
    from builder.commands.visit_change import Change

    with nothing_written():
        change = Change.of(args, file, client)
    print(change.difference())
    for line in change.lines:
        _tell_lines(line)
    for score in change.scores:
        print(f"into the log: {_told(score)}")
    for found in change.checked.findings:
        print(found)
    if not change.differs and not change.scores:
        print(f"{file}: nothing changes.")
        return _make(args, client.code) if args.make else 0
    if not args.yes and not _agreed(f"Write this into {file}? [y/N] "):
        print("Nothing was written.")
        return 0
    change.write()
    print(f"{file}: written. `practice-site visit {args.file} --undo` brings it back.")
    return _left_to_do(args, change)


def _file_of(args: argparse.Namespace) -> tuple[Path, Client]:
    """The one program that is meant, and its client. Raises UsageError where several could be."""
    from builder.commands.paths import files_of
    from builder.commands.sounds import sound_of
    from builder.program_file.load import clients, program_of

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
        raise UsageError(f"{client.code}: this client has several programs. Add {sounds}.")
    return files[0], client


def _told(score: VisitScore) -> str:
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


def _ask_in_turn(args: argparse.Namespace) -> None:
    questions = {
        "score": "Score of what was practiced, as in 17/20",
        "to": "Step to practice next",
        "tried": "How it went in the room, as in 8/10",
        "drop": "Words that go, as in cow,key",
        "add": "Words that come",
        "next": "Next visit, as in 2026-12-14",
        "note": "Note beside the score",
    }
    print("Enter keeps what is there.", file=sys.stderr)
    for name, question in questions.items():
        if (name == "tried" and not args.to) or (name == "note" and not (args.score or args.tried)):
            continue
        try:
            setattr(args, name, input(f"{question}: ").strip())
        except EOFError:
            return


def _undo(file: Path, client: Client) -> int:
    from builder.practice.log.rows import opened
    from builder.practice.log.scores import VisitScore
    from builder.workspace import former
    from builder.workspace.addresses import secret, slug
    from builder.workspace.folder import find
    from builder.workspace.store import write_whole

    workspace = find(file)
    site = slug(secret(workspace), client.code)
    found = former.find(workspace, site, file)
    if found is None:
        kept = former.newest(workspace, site, file)
        where = f" It was changed since; what it was then is kept in {kept}." if kept else ""
        raise UsageError(f"{file}: there is no visit to take back.{where}")
    scores = [
        VisitScore(site, datetime.date.fromisoformat(date), *rest) for date, *rest in found.told
    ]
    if scores:
        with opened(workspace.hidden) as log, log.writing():
            for score in scores:
                log.remove_score(score)
    write_whole(file, found.before, lasting=True)
    found.kept.unlink()
    gone = f"; out of the log: {', '.join(map(_told, scores))}" if scores else ""
    print(f"{file}: as it was before the visit{gone}.")
    return 0


def _left_to_do(args: argparse.Namespace, change: Change) -> int:
    from builder.problems import standing

    code = change.client.code
    faults = len(standing(change.checked.findings))
    if faults:
        print(
            f"Still to do: {faults} fault{'' if faults == 1 else 's'} to mend, then "
            f"`practice-site build {code}` and `practice-site print {code}`."
        )
        return 1
    if args.make:
        return _make(args, code)
    print(f"Still to do: `practice-site build {code}`, `practice-site print {code}`.")
    return 0


def _make(args: argparse.Namespace, code: str) -> int:
    from builder.commands import build_command, print_command

    worst = 0
    for command in (build_command, print_command):
        parser = argparse.ArgumentParser()
        command.add_options(parser)
        worst = max(worst, command.run(parser.parse_args([code])))
    if not worst:
        print("Still to do: publish the folder, hand out the sheet.")
    return worst
