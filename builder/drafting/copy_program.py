"""New programs from old ones: another client's, copied with its comments, where what belongs to
one client alone (age, error, baseline, mastered levels) becomes blanks and dates and reasons go; or
the same client's, for what two programs of one client share."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import yaml

from builder.model.clinic import Clinic
from builder.model.program import OwnPractice, Program, Role
from builder.phonetics.inventory import Sound
from builder.problems import UsageError
from builder.program_file.decode_text import text_of
from builder.program_file.load import files_of_client
from builder.program_file.resolve import program_in
from builder.program_file.suggestions import BLANK
from builder.program_file.yaml_tree import parse

# What is true of one client at one time, and must not be carried to another.
PERSONAL = {
    "age": "whole years; or delete this line",
    "reads": "yes if this client reads the words alone, else no",
    "error": "what this client says instead: a sound, omitted, frontal, lateral or distorted",
    "shape": "of this client's tongue, as in tip down; or delete this line",
    "lacks": "sounds that this client does not have yet, as in [r, sh]; or delete this line",
    "baseline": "as in {date: 2026-01-31, correct: 17, of: 20}; or delete this line",
    "hear_yourself": "yes or no, as this family wants it; or delete this line",
    "pause": "",
    "mastered": "what this client has shown, as in {isolation: 2026-01-31}; or delete this line",
    "because": "",
}


def like(text: str, code: str, current: str) -> str:
    """The program `text` as the start of the program of client `code`, at the step `current`.

    Other clients' own facts become blanks that ask for this client's; dates and reasons go.
    Raises UsageError when the keys are not on lines of their own.
    """
    text, _ = text_of(text.encode(), "")
    # The parser by which programs are read: that in Python refuses [Where is my coin?, I see it.].
    root: Any = yaml.compose(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
    if not isinstance(root, yaml.MappingNode) or root.flow_style:
        raise UsageError("a program in braces cannot be copied: write each key on its own line.")
    lines = {"client": f"client: {code}\n", "current": f"current: {current}\n"}
    lines |= {key: _asked(key) for key in PERSONAL}
    for key, value in reversed(root.value):  # from the end, so that what is above keeps its place
        begin, end = key.start_mark.index, _line_end(text, value)
        if key.value in lines:
            text = text[:begin] + lines[key.value] + text[_past_comments(text, end) :]
        elif key.value == "practice" and isinstance(value, yaml.MappingNode):
            text = _without_dates(text, begin, end, value)
    return text.rstrip("\n") + "\n"


def _asked(key: str) -> str:
    about = PERSONAL[key]
    return f"{key}: {BLANK}   # {about}\n" if about else ""


def _line_end(text: str, node: yaml.Node) -> int:
    """Where the line ends on which a value has its last letter."""
    written = len(text[: _end(node)].rstrip())
    return text.find("\n", written) + 1 or len(text)


def _end(node: yaml.Node) -> int:
    """Where a value ends; the parser lets a block go on to the next key, past comments."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style:
        last = node.value[-1]
        return _end(last[1] if isinstance(node, yaml.MappingNode) else last)
    return int(node.end_mark.index)


def _past_comments(text: str, at: int) -> int:
    """Past the indented comments from `at` on: they belong to the value above them."""
    found = re.compile(r"(?:[ \t]+#[^\n]*(?:\n|$))*").match(text, at)
    return found.end() if found else at


def _without_dates(text: str, begin: int, end: int, practice: yaml.MappingNode) -> str:
    """The text without the two dates of `practice:`, which takes up [begin, end)."""
    dates = [pair for pair in practice.value if pair[0].value in ("from", "visit")]
    others = [pair for pair in practice.value if pair not in dates]
    if dates and not others:
        return text[:begin] + text[end:]
    if dates and practice.flow_style:
        given = ", ".join(f"{key.value}: {_inline(value)}" for key, value in others)
        return f"{text[:begin]}practice: {{{given}}}{text[practice.end_mark.index :]}"
    for key, value in reversed(dates):
        line = text.rindex("\n", 0, key.start_mark.index) + 1
        text = text[:line] + text[_line_end(text, value) :]
    return text


def _inline(node: yaml.Node) -> str:
    if isinstance(node, yaml.SequenceNode):
        return _inside(map(_inline, node.value)) or "[]"
    if isinstance(node, yaml.MappingNode):
        return f"{{{', '.join(f'{key.value}: {_inline(value)}' for key, value in node.value)}}}"
    return str(node.value)


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


def blanks_in(data: bytes) -> int:
    """How many blanks a program's file still has."""
    return len(UNFILLED.findall(data))


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
    practice: dict[str, object] = {
        "times": _inside(written.practice.times),
        "days": _inside(written.practice.days),
        "minutes": written.practice.minutes,
        "visit": written.practice.visit,
        **{role: _own(own) for role, own in written.practice.own.items()},
    }
    given = ", ".join(f"{key}: {value}" for key, value in practice.items() if value)
    lines = {
        "practice": f"{{{given}}}" if given else "",
        "pause": _inside(map(str, written.pause)),
        "helper": _listeners(written.helper),
        "misses": written.misses if written.misses != 3 else "",
        "voice": written.voice or "",
    }
    return tuple(f"{key}: {value}" for key, value in lines.items() if value)


def _own(own: OwnPractice) -> str:
    given = {"days": _inside(own.days), "times": _inside(own.times)}
    return f"{{{', '.join(f'{key}: {value}' for key, value in given.items() if value)}}}"


def _listeners(roles: Sequence[Role]) -> str:
    if len(roles) > 1:
        return _inside(roles)
    return "" if roles == ("home",) else roles[0]


def _inside(names: Iterable[str]) -> str:
    listed = ", ".join(names)
    return f"[{listed}]" if listed else ""
