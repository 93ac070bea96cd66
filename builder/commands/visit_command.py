"""practice-site visit: what a session changes in clients' programs, in one command."""

from __future__ import annotations

import argparse
import os
import sys

from builder.commands import options
from builder.problems import ProgramError, UsageError
from builder.workspace.groups import expanded
from builder.workspace.stamps import root_around

ABOUT = "write what a session changes: score, step, words, dates"
CHANGES = ("score", "to", "tried", "drop", "add", "next", "note")
OF_A_SCORE = {"step": "score", "no_model": "score", "probe": "score", "tried_no_model": "tried"}
OF_ONE = ("sound", "score", "step", "no_model", "probe", "tried", "tried_no_model", "drop", "add")


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `visit`."""
    parser.add_argument(
        "files",
        nargs="+",
        metavar="CLIENT",
        help=f"{options.CLIENT}; several, or a group of the clinic file",
    )
    parser.add_argument("--sound", default="", metavar="S", help="of a client with several")
    parser.add_argument(
        "--score", default="", metavar="N/N", help="correct of all, as in 17/20: into the log"
    )
    parser.add_argument(
        "--step", default="", metavar="STEP", help="what was scored, where several are practiced"
    )
    parser.add_argument("--no-model", action="store_true", help="it was said without a model")
    parser.add_argument("--probe", action="store_true", help="of words kept out of practice")
    parser.add_argument(
        "--to",
        default="",
        metavar="STEP",
        help="what is practiced next: a step's name, id or level, or on, or back",
    )
    parser.add_argument(
        "--tried", default="", metavar="N/N", help="how that step went in the room: its baseline"
    )
    parser.add_argument(
        "--tried-no-model", action="store_true", help="that was said without a model"
    )
    parser.add_argument("--drop", default="", metavar="WORDS", help="words that go, as in cow,key")
    parser.add_argument("--add", default="", metavar="WORDS", help="words that come")
    parser.add_argument(
        "--next", default="", metavar="DAY", help="next visit, as in 2026-12-14 or 12-14"
    )
    parser.add_argument(
        "--day", default="", metavar="DAY", help="of the visit, where it was not today, as in 12-07"
    )
    parser.add_argument("--note", default="", help="a remark on the visit, into the log")
    parser.add_argument("--yes", action="store_true", help="write without asking")
    parser.add_argument(
        "--undo", action="store_true", help="take the last visit back: file and score"
    )
    parser.set_defaults(noted=False, is_visit=True)  # noted: the remark was asked for before
    parser.add_argument("--make", action="store_true", help="then build and print each client")


def run(args: argparse.Namespace) -> int:
    """Each client by itself: show what is known and what would change, ask, and write it. The exit
    code is the worst one; a fault in one client keeps no other one back."""
    names = expanded(args.files, root_around(os.getcwd()))
    _of_one(args, names)
    worst, ready = 0, []
    ask = not _told(args) or (len(names) > 1 and not args.yes)
    if not ask:
        _with_its_score(args)
    for name in names:
        own = argparse.Namespace(**vars(args) | {"file": name})
        try:
            became = _all_of(own, ask)
        except (UsageError, ProgramError) as problem:
            if len(names) == 1:
                raise
            print(f"{problem}\n{name}: left as it was", file=sys.stderr)
            worst = max(worst, 2 if isinstance(problem, UsageError) else 1)
            continue
        ready += [name] if became <= {"written", "nothing"} else []
        worst = max(worst, int("fault" in became))
    return max(worst, _make(ready)) if args.make and ready else worst


def _all_of(args: argparse.Namespace, ask: bool) -> set[str]:
    """What became of one client, whose programs are visited one after the other where nothing
    says which is meant; their next visit and the note are typed once."""
    from builder.commands.visit_checked import sounds_practiced
    from builder.commands.visit_one import visit
    from builder.commands.visit_undo import undo

    if args.undo:
        return {undo(args)}
    of_one = any(getattr(args, name) for name in (*OF_ONE, "to"))
    sounds = () if of_one else sounds_practiced(args)
    if len(sounds) < 2:
        return {visit(args, ask)}
    became: set[str] = set()
    for number, sound in enumerate(sounds):
        own = argparse.Namespace(**vars(args) | {"sound": sound, "noted": number > 0})
        became.add(visit(own, ask, whole=True))
        args.next, args.note = own.next, ""
    return became


def _told(args: argparse.Namespace) -> bool:
    return any(getattr(args, name) for name in CHANGES)


def _of_one(args: argparse.Namespace, names: list[str]) -> None:
    """Raises UsageError for an option that cannot hold for several clients."""
    given = [f"`--{name.replace('_', '-')}`" for name in OF_ONE if getattr(args, name)]
    if len(names) > 1 and given:
        raise UsageError(
            f"{' and '.join(given)} can hold for one client only. `practice-site visit "
            f"{' '.join(names)}` asks for each in turn; `--to`, `--next` and `--note` hold for all."
        )


def _with_its_score(args: argparse.Namespace) -> None:
    """Raises UsageError for an option that says how something was scored, where no score is."""
    for name, score in OF_A_SCORE.items():
        if getattr(args, name) and not getattr(args, score):
            raise UsageError(
                f"`--{name.replace('_', '-')}` goes with `--{score}`: add it, as in "
                f"`--{score} 17/20`."
            )


def _make(names: list[str]) -> int:
    from builder.commands import build_command, print_command

    worst = 0
    for command in (build_command, print_command):
        parser = argparse.ArgumentParser()
        command.add_options(parser)
        worst = max(worst, command.run(parser.parse_args(names)))
    if not worst:
        sheets = "the sheet" if len(names) == 1 else "the sheets"
        print(f"Still to do: publish the folder, hand out {sheets}.")
    return worst
