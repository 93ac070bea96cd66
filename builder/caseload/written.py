"""What the program files of a client say, read once for each state of them and kept, so that a
look at a thousand clients reads only those whose files changed."""

from __future__ import annotations

import datetime
import gc
import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from builder.caseload.facts import Written
from builder.checks.pictures import shown_as_print
from builder.drafting.copy_program import begun, blanks_in
from builder.model.clinic import Clinic
from builder.model.criteria import Criteria
from builder.model.pause import Pause, merged
from builder.model.program import Client, Program
from builder.practice.figures.planned import Timetable, timetable
from builder.practice.figures.proposal.counting import Asked
from builder.practice.former_sheets import FormerSheet, practiced_since, sheets_in
from builder.practice.visit.asked import asked_of
from builder.problems import ProgramError
from builder.program_file.load import clinic_of
from builder.recordings.prompts import item_utterance
from builder.survey import files
from builder.survey.survey import Survey
from builder.workspace.store import write_private

KEPT = "caseload.json"  # in the hidden folder; lost or damaged, the programs are read again
UNPICTURED = ("isolation", "syllable")  # levels whose items show no picture
DATES = ("start", "visit")

Kept = dict[str, Written]
"""By the digest of the state of a client's files."""
Former = Mapping[str, Sequence[str]]
"""By a program's file name, the texts of its former versions, oldest first."""


def kept(folder: Path) -> Kept:
    """What was read before; nothing of it where its form is not this one."""
    try:
        known = json.loads((folder / KEPT).read_text("utf-8"))
        return {state: _loaded(entry) for state, entry in known.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}


def keep(folder: Path, known: Kept) -> None:
    """Keep what was read, for its owner only: it tells what clients practice."""
    entries = {state: _dumped(one) for state, one in known.items()}
    write_private(folder / KEPT, json.dumps(entries, sort_keys=True).encode())


def read_all(
    programs: Mapping[str, list[str]],
    states: Mapping[str, str],
    before: Kept,
    tell: Callable[[int, int], None],
    former: Callable[[str], Former] = lambda _code: {},
) -> Kept:
    """Of every client what is written, by state: as it was kept, else read now.

    programs: files by code; states: by code; tell: how many were looked at, of how many. former:
    a client's former versions; with each of them its files have another state.
    """
    found: Kept = {}
    clinics: dict[Path, Clinic | ProgramError] = {}
    with _nothing_collected():
        for at, (code, paths) in enumerate(programs.items()):
            state = states[code]
            if state in before:
                found[state] = before[state]
            else:
                found[state] = _read(code, paths, clinics, former(code))
            tell(at + 1, len(programs))
    return found


@contextmanager
def _nothing_collected() -> Iterator[None]:
    """Programs hold no circles, and looking for some again and again takes a twentieth of the
    time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _read(
    code: str,
    paths: Iterable[str],
    clinics: dict[Path, Clinic | ProgramError],
    former: Former,
) -> Written:
    chosen = list(map(Path, paths))
    folder = chosen[0].parent
    if folder not in clinics:
        clinics[folder] = _clinic(folder)
    clinic = clinics[folder]
    blanks, programs, trouble = 0, list[Program](), ""
    if isinstance(clinic, ProgramError):
        return Written(code=code, trouble=_told(clinic))
    for file in chosen:
        try:
            blanks += blanks_in(file.read_bytes())
            programs.append(begun(file, clinic))
        except ProgramError as problem:
            trouble = trouble or _told(problem)
        except OSError as problem:
            trouble = trouble or f"{file.name}: {problem.strerror}."
    if not programs:
        return Written(code=code, blanks=blanks, trouble=trouble)
    return _of(Client(code, tuple(programs), clinic, str(folder)), blanks, trouble, former)


def _clinic(folder: Path) -> Clinic | ProgramError:
    try:
        return clinic_of(folder)
    except ProgramError as problem:
        return problem


def _told(problem: ProgramError) -> str:
    """The first of what was found, with the file's name and line."""
    first = problem.findings[0]
    return f"{replace(first.place, file=Path(first.place.file).name)}: {first.sentence}"


def _of(client: Client, blanks: int, trouble: str, former: Former) -> Written:
    programs, clinic = client.programs, client.clinic
    pauses = merged(clinic.pause, *(program.written.pause for program in programs))
    return Written(
        code=client.code,
        sounds=_sounds(programs),
        steps=tuple(step.name for program in programs for step in program.current_steps),
        proposed_of=tuple(one for program in programs for one in asked_of(program, pauses)),
        blanks=blanks,
        trouble=trouble,
        since=_since(programs, former),
        days=replace(timetable(programs, pauses), over=sheets_in(former)),
        bare=_bare(client),
        spoken=_spoken(client),
        asked=bool(clinic.records) or clinic.sheet.counts,
    )


def _since(programs: Iterable[Program], former: Former) -> datetime.date | None:
    """Of several programs, of the one that moved last."""
    each = (practiced_since(former.get(Path(p.file).name, ()), p.written.current) for p in programs)
    return max(filter(None, each), default=None)


def _sounds(programs: Iterable[Program]) -> tuple[str, ...]:
    """The sounds practiced now: of several vowels with r those of the current steps."""
    now = (
        (step.sound or program.sound).spelled
        for program in programs
        for step in program.current_steps
    )
    return tuple(dict.fromkeys(now))


def _bare(client: Client) -> tuple[str, ...]:
    """Words practiced now without a picture, of who does not read."""
    if all(program.written.reads for program in client.programs):
        return ()
    own, drawings = files.own_pictures(client), files.drawings_of(client)
    seen = Survey(own=own, drawings=drawings, takes={})
    found = (
        text
        for program in client.programs
        for step in program.current_steps
        if step.level not in UNPICTURED
        for text in shown_as_print(program, step.said, seen)
    )
    return tuple(dict.fromkeys(found))


def _spoken(client: Client) -> tuple[str, ...]:
    """The file stems of what is said naturally in the current steps."""
    said = (
        item_utterance(program, step, item, "natural")
        for program in client.programs
        for step in program.current_steps
        for item in step.said
        if item.phones  # else a fault of its own
    )
    return tuple(dict.fromkeys(utterance.stem for utterance in said))


def _dumped(one: Written) -> dict[str, Any]:
    days = one.days
    return {field.name: getattr(one, field.name) for field in fields(one)} | {
        "since": str(one.since) if one.since else None,
        "days": {
            "weekdays": sorted(days.weekdays),
            "pauses": [[str(p.first), str(p.last)] for p in days.pauses],
            "baselines": sorted(map(str, days.baselines)),
            "over": sorted((str(s.visit), str(s.next) if s.next else "") for s in days.over),
            **{name: str(day) if (day := getattr(days, name)) else None for name in DATES},
        },
        "proposed_of": [vars(a) | {"criteria": a.criteria.model_dump()} for a in one.proposed_of],
    }


def _loaded(entry: dict[str, Any]) -> Written:
    values: dict[str, Any] = {n: tuple(v) if isinstance(v, list) else v for n, v in entry.items()}
    values["proposed_of"] = tuple(
        Asked(**asked | {"criteria": Criteria.model_validate(asked["criteria"])})
        for asked in values["proposed_of"]
    )
    since = datetime.date.fromisoformat(entry["since"]) if entry["since"] else None
    return Written(**values | {"since": since, "days": _days(entry["days"])})


def _days(kept: dict[str, Any]) -> Timetable:
    day = datetime.date.fromisoformat
    return Timetable(
        weekdays=frozenset(kept["weekdays"]),
        pauses=tuple(Pause(day(first), day(last)) for first, last in kept["pauses"]),
        baselines=frozenset(map(day, kept["baselines"])),
        over=frozenset(
            FormerSheet(day(visit), day(begin) if begin else None) for visit, begin in kept["over"]
        ),
        **{name: day(kept[name]) if kept[name] else None for name in DATES},
    )
