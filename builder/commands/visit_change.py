"""A visit worked out: what the file, the log and the check would be; written only when asked to."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from builder.commands.clock import today
from builder.commands.sounds import words_of
from builder.commands.visit_checked import (
    more,
    next_dates,
    program_at,
    refuse_words,
    session_day,
    with_text,
)
from builder.commands.visit_heard import heard, read
from builder.drafting.visit.difference import in_words
from builder.drafting.visit.plan_visit import (
    Wanted,
    changed,
    step_named,
    with_fitted_times,
)
from builder.drafting.visit.refresh_lines import Lines, refreshed, without_line
from builder.make import drawings
from builder.model.fill_sitting import filled
from builder.model.program import Client, Program
from builder.pipeline import check_client
from builder.practice.visit.written import Heard, Writing, require_unchanged
from builder.problems import Finding, UsageError
from builder.workspace.program_files import PICTURES

SITTING_RULES = ("far-too-much", "too-much", "few-tries")  # of the check: how full a sitting is


@dataclass(frozen=True)
class Change:
    """A visit worked out, nothing of it written yet. findings: what the check finds after it;
    fresh: those of rules that found less before. unlined: new words that no line is drafted with.
    waiting: the client's other programs, whose next visit is still to be written; they are checked
    as if it were."""

    file: Path
    before: bytes
    after: bytes
    client: Client
    old: Program
    new: Program
    findings: tuple[Finding, ...]
    fresh: tuple[Finding, ...]
    lines: tuple[Lines, ...]
    unlined: tuple[str, ...]
    waiting: tuple[Program, ...]
    heard: Heard

    @classmethod
    def of(
        cls, args: argparse.Namespace, file: Path, before: bytes, client: Client, site: str
    ) -> Change:
        """before: what the client was read from. Raises UsageError for what cannot be, ProgramError
        for what could not be read."""
        require_unchanged(file, before)
        old = program_at(client, file)
        wanted = _wanted(args, old, client)
        text = before.decode("utf-8")
        if wanted.out or wanted.put:
            refuse_words(text, client, old, wanted)
        text = changed(text, old, wanted)
        lines: tuple[Lines, ...] = ()
        if wanted.out or wanted.put:
            others = tuple(one for one in client.programs if one.file != old.file)
            now, _ = with_text(client, old, text)
            text, lines = refreshed(text, now, wanted.out, wanted.put, _pictured(file, old), others)
        if wanted.out or wanted.put or wanted.to is not None:
            text = _fitted(client, old, text)
        new, whole = with_text(client, old, text)
        waiting = _waiting(whole, old, new)
        findings = check_client(_with_visit(whole, waiting, new), today=today()).findings
        return cls(
            file=file,
            before=before,
            after=text.encode(),
            client=whole,
            old=old,
            new=new,
            findings=findings,
            fresh=more(check_client(client, today=today()).findings, findings),
            lines=lines,
            unlined=without_line(new, wanted.put, lines),
            waiting=waiting,
            heard=heard(args, old, wanted.to, wanted.day, site),
        )

    @property
    def refitted(self) -> bool:
        """Whether other words or another step make another sitting."""
        rounds = [[step.rounds for step in one.current_steps] for one in (self.old, self.new)]
        words = [[step.items for step in one.current_steps] for one in (self.old, self.new)]
        return rounds[0] != rounds[1] or words[0] != words[1]

    @property
    def differs(self) -> bool:
        """Whether the file changes."""
        return self.before != self.after

    def difference(self) -> str:
        """In a line."""
        return f"{self.client.code}: {in_words(self.old, self.new, self.client)}"

    def writing(self, site: str) -> Writing:
        """What is to be written."""
        return Writing(
            code=self.client.code,
            site=site,
            file=self.file,
            before=self.before.decode(),
            after=self.after.decode(),
            heard=self.heard,
            day=str(today()),
        )


def _waiting(client: Client, old: Program, new: Program) -> tuple[Program, ...]:
    """The client's other programs whose visit is not the one that this gets: where a client has
    several, each is visited in turn."""
    to = new.written.practice.visit
    if old.written.practice.visit == to:
        return ()
    return tuple(
        one
        for one in client.programs
        if one.file != old.file and one.written.practice.visit not in (None, to)
    )


def _with_visit(client: Client, waiting: tuple[Program, ...], new: Program) -> Client:
    files, visit = {one.file for one in waiting}, new.written.practice.visit
    programs = tuple(
        replace(
            one,
            written=one.written.model_copy(
                update={"practice": one.written.practice.model_copy(update={"visit": visit})}
            ),
        )
        if one.file in files
        else one
        for one in client.programs
    )
    return replace(client, programs=programs)


def _fitted(client: Client, old: Program, text: str) -> str:
    """The text with other `times:` where a sitting is too long or too short by the check, and these
    mend it; else as it is."""
    new, whole = with_text(client, old, text)
    if not _is_amiss(whole):
        return text
    fitted = program_at(filled(whole, every=True), Path(old.file))
    other = with_fitted_times(text, new, fitted)
    return text if _is_amiss(with_text(client, old, other)[1]) else other


def _is_amiss(client: Client) -> bool:
    found = check_client(client).findings
    return any(one.rule in SITTING_RULES and not one.accepted for one in found)


def _wanted(args: argparse.Namespace, program: Program, client: Client) -> Wanted:
    if args.tried and not args.to:
        raise UsageError("`--tried` scores the step that is practiced next: name it with `--to`.")
    # A new sheet begins after today, also where the visit is entered late.
    dates = next_dates(args.next, today(), program, client) if args.next else {}
    return Wanted(
        day=session_day(args.day, today()),
        to=step_named(program, args.to) if args.to else None,
        tried=read(args.tried) if args.tried else None,
        dates=dates,
        out=words_of(args.drop),
        put=words_of(args.add),
    )


def _pictured(file: Path, program: Program) -> Callable[[str], bool]:
    """Tells of a word whether there is a picture."""
    folders = (file.parent / program.written.client, file.parent / PICTURES)
    own = {one.stem.lower() for folder in folders if folder.is_dir() for one in folder.iterdir()}
    return lambda word: word.lower() in own or drawings.find(word) is not None
