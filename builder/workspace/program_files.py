"""Which files of a folder are programs, and whose, by a look at their lines: no YAML is read.

Loads nothing heavy: a build with nothing to do needs it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator

CLINIC = "clinic.yaml"
ENDINGS = (".yaml", ".yml")
MAX_BYTES = 1_000_000  # a program of a hundred words has 5,000; beyond 1 MB it is another file


def programs_in(folder: str) -> list[str]:
    """The paths of the program files of a folder, by name. Raises OSError."""
    names = (name for name in os.listdir(folder) if _may_be_program(name))
    # heron-07.yaml before heron-07-s.yaml: a further sound comes after the first one.
    paths = [os.path.join(folder, name) for name in sorted(names, key=os.path.splitext)]
    return [path for path in paths if os.path.isfile(path)]


def _may_be_program(name: str) -> bool:
    hidden = name.startswith(".")  # an editor's own
    return name.endswith(ENDINGS) and name != CLINIC and not hidden


def by_code(folder: str) -> dict[str, list[str]]:
    """The program files of a folder by client code, in one pass over all of them. Files without a
    code are left out. Raises OSError."""
    found: dict[str, list[str]] = {}
    for path in programs_in(folder):
        if code := code_of(path):
            found.setdefault(code, []).append(path)
    return found


def code_of(path: str) -> str:
    """The client code of a program file; "" when there is none or the file cannot be read.

    No more than MAX_BYTES are read: a larger file is no program.
    """
    try:
        with open(path, encoding="utf-8", errors="replace") as stream:
            lines = iter(lambda: stream.readline(MAX_BYTES), "")
            return next(filter(None, map(_code_in_line, _beginning(lines))), "")
    except OSError:
        return ""


def _beginning(lines: Iterator[str]) -> Iterator[str]:
    read = 0
    for line in lines:
        read += len(line)
        if read > MAX_BYTES:
            return
        yield line


def _code_in_line(line: str) -> str:
    """The code when the line is that of the key `client`, else ""."""
    key, colon, value = line.partition(":")
    if not colon or line[:1] in " \t" or key.strip().strip("'\"") != "client":
        return ""
    return value.split("#")[0].strip().strip("'\"")
