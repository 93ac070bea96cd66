"""New programs from old ones. The text is copied with its comments; what belongs to one client
alone (dates, baseline, reasons, mastered levels) is set back for the therapist to fill in."""

from __future__ import annotations

import re
from collections.abc import Iterable

# What is true of one client at one time, and must not be carried to another.
PERSONAL = ("baseline", "mastered", "because", "age", "error")


def like(text: str, code: str, current: str) -> str:
    """The program `text` as the start of the program of client `code`, at the step `current`.

    Lines of other clients' own facts become comments that ask for them; dates go.
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
    asks = {
        "age": "# age:            whole years, of this client",
        "error": "# error:          what this client says instead",
        "baseline": "# baseline:       {date: 2026-01-31, correct: 0, of: 20}   of this client",
        "mastered": "# mastered:       {isolation: 2026-01-31}   what this client has shown",
        "because": "# because:        your reasons for this client",
    }
    return [asks[key]]


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
