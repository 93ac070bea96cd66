"""New programs from old ones. The text is copied with its comments; what belongs to one client
alone (age, error, baseline, mastered levels) becomes blanks; dates and reasons go."""

from __future__ import annotations

import re
from collections.abc import Iterable

from builder.hints import BLANK

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
