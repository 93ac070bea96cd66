"""Asks in turn what a visit changes. Enter keeps what is there; a proposal is never taken by it."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable

from builder.commands.clock import today
from builder.commands.sounds import words_of
from builder.commands.visit_agreed import YES
from builder.commands.visit_checked import next_dates, refuse_words, session_day
from builder.commands.visit_heard import read, scores_of
from builder.drafting.visit.edit_program import Edited
from builder.drafting.visit.plan_visit import Wanted, check_words, step_named
from builder.model.program import PAST_SENTENCES, Client, Program, Step
from builder.practice.visit.speak import proposals
from builder.practice.visit.told import Told
from builder.problems import ProgramError, UsageError

DATE = "2026-12-14 or 12-14"
NO = ("n", "no")


def ask_in_turn(
    args: argparse.Namespace,
    text: str,
    program: Program,
    client: Client,
    site: str,
    told_with: Callable[..., Told],
) -> None:
    """Put what is typed into `args`, as if it were options; what is told there is not asked for.
    An answer that cannot be is asked for again; the end of the input ends it.

    text: the program's, as it stands in its file.
    """
    print("Enter keeps what is there.", file=sys.stderr)
    try:
        _ask_for_score(args, program)
        if args.score:
            day = session_day(args.day, today())
            scores = scores_of(args, program, None, day, site)
            for line in proposals(told_with(scores), with_score=True):
                print(f"    {line}")
        if not args.to:
            _ask_for_step(args, program)
        _ask_for_words(args, text, program, client)
        if not args.next:
            question = _next_visit(program)
            args.next = _answer(question, lambda day: next_dates(day, today(), program, client))
        if not args.note and not args.noted:
            args.note = _answer("Note on the visit")
    except EOFError:
        return


def _ask_for_words(args: argparse.Namespace, text: str, program: Program, client: Client) -> None:
    def held(out: str, put: str = "") -> None:
        to = step_named(program, args.to) if args.to else None
        wanted = Wanted(day=today(), to=to, dates={}, out=words_of(out), put=words_of(put))
        refuse_words(text, client, program, wanted)

    def ask() -> None:
        edited = Edited(text, program.file)
        args.drop = _answer(
            "Words that go, as in cow,key", lambda w: check_words(edited, words_of(w))
        )
        args.add = _answer("Words that come", lambda words: held(args.drop, words))
        if args.drop and not args.add:
            held(args.drop)

    while True:
        try:
            return ask()
        except (UsageError, ProgramError) as problem:
            print(problem, file=sys.stderr)


def _ask_for_score(args: argparse.Namespace, program: Program) -> None:
    args.score = _answer("Score of what was practiced, as in 17/20", read)
    if not args.score:
        return
    if len(program.current) > 1:
        names = " or ".join(f"'{step.name}'" for step in program.current_steps)
        args.step = _needed(f"Which step was scored: {names}", lambda t: step_named(program, t))
    scored = step_named(program, args.step) if args.step else program.current[0]
    args.no_model = _without_model(program.steps[scored])


def _ask_for_step(args: argparse.Namespace, program: Program) -> None:
    args.to = _answer(_next_step(program), lambda told: step_named(program, told))
    if args.to and (step_named(program, args.to),) == program.current:
        args.to = ""  # it stays
    if not args.to:
        return
    step = program.steps[step_named(program, args.to)]
    args.tried = _answer(f"How '{step.name}' went in the room, as in 17/20", read)
    args.tried_no_model = bool(args.tried) and _without_model(step)


def _without_model(step: Step) -> bool:
    """Past sentences nothing is heard first, so nothing is asked."""
    if step.level in PAST_SENTENCES:
        return True
    return _answer("Said without a model? [y/N]", _yes_or_no).lower() in YES


def _yes_or_no(text: str) -> None:
    if text.lower() not in YES + NO:
        raise UsageError(f"`{text}` is neither yes nor no. Type y or n; Enter is no.")


def _next_visit(program: Program) -> str:
    """With the visit that is written where it is to come no more: Enter would keep it."""
    written = program.written.practice.visit
    now = f" (the one written is {written})" if written and written <= today() else ""
    return f"Next visit{now}, as in {DATE}"


def _next_step(program: Program) -> str:
    """As in "Step to practice next (Enter: 'words' as now; on: 'two words'; back: 'syllables')"."""
    names = " and ".join(f"'{step.name}'" for step in program.current_steps)
    ways = [f"Enter: {names} as now"]
    if (after := max(program.current) + 1) < len(program.steps):
        ways.append(f"on: '{program.steps[after].name}'")
    if (before := min(program.current) - 1) >= 0:
        ways.append(f"back: '{program.steps[before].name}'")
    return f"Step to practice next ({'; '.join(ways)})"


def _answer(question: str, check: Callable[[str], object] = str) -> str:
    """What is typed, "" for nothing; asked again while `check` raises UsageError."""
    while True:
        text = input(f"{question}: ").strip()
        try:
            if text:
                check(text)
        except (UsageError, ProgramError) as problem:
            print(problem, file=sys.stderr)
        else:
            return text


def _needed(question: str, check: Callable[[str], object]) -> str:
    while not (text := _answer(question, check)):
        pass
    return text
