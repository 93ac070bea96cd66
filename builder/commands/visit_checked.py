"""What was typed for a visit, held against the program before anything is worked out from it."""

from __future__ import annotations

import argparse
import datetime
from collections import Counter
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from builder.checks.findings import quoted
from builder.checks.items import OF_ITEMS
from builder.checks.pause import pauses_of
from builder.commands.paths import files_of
from builder.commands.sounds import sound_of
from builder.drafting.visit.plan_visit import Wanted, changed, dates_until
from builder.model.fill_sitting import filled
from builder.model.program import Client, Program
from builder.pipeline import check_client
from builder.problems import Finding, UsageError, standing
from builder.program_file.load import clients, program_of
from builder.program_file.resolve import program_in
from builder.program_file.yaml_tree import parse

LATEST = 60  # days after a visit on which it may be entered; more is a slip of the hand


def next_dates(
    text: str, day: datetime.date, program: Program, client: Client
) -> dict[str, datetime.date]:
    """The first day of practice and the visit, as typed at the session of `day`. Raises UsageError
    for what is no day, or none to come."""
    visit = day_of(text, day)
    if not 0 < (visit - day).days <= 366:
        raise UsageError(f"The next visit ({visit}) must be after today, and within a year.")
    return dates_until(visit, day, program, pauses_of(client))


def day_of(text: str, today: datetime.date) -> datetime.date:
    """A day as typed, in ISO form; without a year (12-14) the next one after today. Raises
    UsageError for what is none."""
    found = _days_of(text, (today.year, today.year + 1))
    return next((day for day in found if day > today), found[0])


def session_day(text: str, today: datetime.date) -> datetime.date:
    """The day of the visit: today, or an earlier one as typed; without a year (12-07) the last one.
    Raises UsageError for what is none, is to come or is long past."""
    if not text:
        return today
    found = _days_of(text, (today.year, today.year - 1))
    day = next((day for day in found if day <= today), found[0])
    if not 0 <= (today - day).days <= LATEST:
        raise UsageError(
            f"The day of the visit ({day}) must be today or one of the {LATEST} days before."
        )
    return day


def _days_of(text: str, years: Iterable[int]) -> list[datetime.date]:
    """A typed day; without a year that of each year that has it. Raises UsageError."""
    typed = text.strip()
    found = []
    for year in [f"{year}-" for year in years] if typed.count("-") == 1 else [""]:
        with suppress(ValueError):
            found.append(datetime.date.fromisoformat(f"{year}{typed}"))
    if not found:
        raise UsageError(f"`{text}` is no day. Write it as in 2026-12-14, or 12-14.")
    return found


def refuse_words(text: str, client: Client, program: Program, wanted: Wanted) -> None:
    """Raises UsageError for words that cannot go from a program or come into it, or that the check
    calls a fault once the step that comes is practiced: no line is drafted with them. text: the
    program's."""
    alone = replace(wanted, tried=None, dates={})
    _, whole = with_text(client, program, changed(text, program, alone))
    found = (standing(check_client(one).findings) for one in (client, whole))
    wrong = [
        one
        for one in more(*found)
        if one.rule in OF_ITEMS and any(quoted([word]) in one.sentence for word in wanted.put)
    ]
    if wrong:
        raise UsageError("\n".join(f"{one.sentence} {one.remedy}" for one in wrong))


def more(before: Iterable[Finding], after: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings of rules that found less before."""
    grown = Counter(one.rule for one in after) - Counter(one.rule for one in before)
    return tuple(one for one in after if grown[one.rule])


def program_at(client: Client, file: Path) -> Program:
    """The program of a client that stands in a file."""
    return next(one for one in client.programs if Path(one.file) == file)


def with_text(client: Client, old: Program, text: str) -> tuple[Program, Client]:
    """The program that `text` is in the place of `old`, and the client with it. Raises
    ProgramError."""
    new = program_in(parse(text.encode(), old.file), client.clinic)
    programs = tuple(new if one.file == old.file else one for one in client.programs)
    whole = filled(replace(client, programs=programs))
    return program_at(whole, Path(old.file)), whole


def sounds_practiced(args: argparse.Namespace) -> tuple[str, ...]:
    """The sounds of a client's programs, as they are written there."""
    files = files_of([args.file])
    (client,) = clients(files)
    return tuple(program_of(file, client.clinic).written.sound for file in files)


def file_of(args: argparse.Namespace) -> tuple[Path, Client]:
    """The one program that is meant, and its client. Raises UsageError where several could be."""
    files = files_of([args.file])
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
