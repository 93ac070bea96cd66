"""New programs from old ones: another client's, copied with its comments, where what belongs to
one client alone (age, error, baseline, mastered levels) becomes blanks and dates and reasons go; or
the same client's, for what two programs of one client share."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from builder.model.clinic import Clinic
from builder.model.program import Program
from builder.phonetics.inventory import Sound
from builder.problems import UsageError
from builder.program_file.load import files_of_client
from builder.program_file.resolve import program_in
from builder.program_file.suggestions import BLANK
from builder.program_file.yaml_tree import parse

# What is true of one client at one time, and must not be carried to another.
PERSONAL = {
    "age": "whole years; or delete this line",
    "error": "what this client says instead: a sound, omitted, frontal, lateral or distorted",
    "lacks": "sounds that this client does not have yet, as in [r, sh]; or delete this line",
    "baseline": "as in {date: 2026-01-31, correct: 17, of: 20}; or delete this line",
    "mastered": "what this client has shown, as in {isolation: 2026-01-31}; or delete this line",
    "because": "",
}


def like(text: str, code: str, current: str) -> str:
    """The program `text` as the start of the program of client `code`, at the step `current`.

    Other clients' own facts become blanks that ask for this client's; dates and reasons go.
    """
    lines: list[str] = []
    dropping = False
    for line in text.splitlines():
        key = re.match(r"([a-z_]+):", line)
        if key:
            dropping = key[1] in PERSONAL
            lines += _asked(key[1]) if dropping else [_changed(key[1], line, code, current)]
        elif not (dropping and (line.startswith((" ", "\t", "-")) or not line.strip())):
            dropping = False
            lines.append(line)
    return "\n".join(lines) + "\n"


def _asked(key: str) -> list[str]:
    about = PERSONAL[key]
    return [f"{key}: {BLANK}   # {about}"] if about else []


def _changed(key: str, line: str, code: str, current: str) -> str:
    if key == "client":
        return f"client: {code}"
    if key == "current":
        return f"current: {current}"
    if key == "practice":
        return _without_dates(line)
    return line


def _without_dates(line: str) -> str:
    """`practice: {times: [...], from: …, visit: …}` without its two dates."""
    bare = re.sub(r",?\s*\b(from|visit):\s*\d{4}-\d{2}-\d{2}", "", line)
    return bare.replace("{, ", "{").replace("{,", "{")


def plain_name(name: str) -> str:
    """A step's name as it must be written after `current:`."""
    quoted = name.replace('"', '\\"')
    return name if re.fullmatch(r"[\w][\w \-]*", name) else f'"{quoted}"'


def first_of(names: Iterable[str]) -> str:
    """The first step: where a new client begins until the therapist says otherwise."""
    return plain_name(next(iter(names)))


def others_of(file: Path) -> tuple[Path, ...]:
    """The other program files of the client of `file`."""
    return tuple(one for one in files_of_client(file) if one != file)


def step_names(programs: Iterable[Program], sound: Sound) -> frozenset[str]:
    """The names of steps that a further program of `sound` must not give again: a step's address
    is made of its name and of how the sound is spelled."""
    alike = (p for p in programs if p.sound.spelled == sound.spelled)
    return frozenset(step.name for program in alike for step in program.steps)


UNFILLED = re.compile(rb"(?m)^[a-z_]+:[ \t]*" + BLANK.encode() + rb"\b[^\r\n]*")


def begun(file: Path, clinic: Clinic) -> Program:
    """A program in whose text blanks may still stand: their lines count as not written.

    Raises UsageError when it cannot be opened, ProgramError with all else that is amiss in it.
    """
    try:
        data = file.read_bytes()
    except OSError as error:
        raise UsageError(f"{file}: it cannot be read ({error.strerror}).") from None
    return program_in(parse(UNFILLED.sub(b"", data), str(file)), clinic)


def shared(program: Program) -> tuple[str, ...]:
    """The lines in which a further program of the same client says what this one says: who
    listens, when, when the next visit is. The first day of practice is each program's own."""
    written = program.written
    practice = {
        "times": _inside(written.practice.times),
        "days": _inside(written.practice.days),
        "minutes": written.practice.minutes,
        "visit": written.practice.visit,
    }
    given = ", ".join(f"{key}: {value}" for key, value in practice.items() if value)
    lines = {
        "practice": f"{{{given}}}" if given else "",
        "helper": written.helper if written.helper != "home" else "",
        "misses": written.misses if written.misses != 3 else "",
        "voice": written.voice or "",
    }
    return tuple(f"{key}: {value}" for key, value in lines.items() if value)


def _inside(names: Iterable[str]) -> str:
    listed = ", ".join(names)
    return f"[{listed}]" if listed else ""
