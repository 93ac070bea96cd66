"""Which files of a folder are programs, and whose, by a look at their lines: no YAML is read.

Loads nothing heavy: a build with nothing to do needs it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator

PROGRAMS = "programs"  # the folder of a clinic's programs, in its practice folder
EXAMPLES = os.path.join(PROGRAMS, "examples")  # invented clients, kept apart from a clinic's own
PICTURES = "pictures"  # beside the programs: pictures that all clients share
CLINIC = "clinic.yaml"
ENDINGS = (".yaml", ".yml")
MAX_BYTES = 1_000_000  # a program of a hundred words has 5,000; beyond 1 MB it is another file


def programs_in(folder: str) -> list[str]:
    """The paths of the program files of a folder, by name. Raises OSError."""
    names = (name for name in os.listdir(folder) if _may_be_program(name))
    # heron-07.yaml before heron-07-s.yaml: a further sound comes after the first one.
    paths = [os.path.join(folder, name) for name in sorted(names, key=os.path.splitext)]
    return [path for path in paths if os.path.isfile(path)]


def named(names: list[str], root: str) -> list[str]:
    """The program files that these names mean: paths, or codes of clients in the practice folder
    `root` ("" for none); without a name all programs of the clinic, and none of the examples.

    A name that means nothing stays as it is. Raises OSError.
    """
    if not names:
        folder = os.path.join(root, PROGRAMS)
        return _from_here(programs_in(folder)) if root and os.path.isdir(folder) else []
    places = [os.path.join(root, folder) for folder in (PROGRAMS, EXAMPLES)] if root else []
    known: dict[str, dict[str, list[str]]] = {}
    found: list[str] = []
    for name in names:
        found += _of_code(name, places, known) if _may_be_code(name) else [name]
    return found


def _may_be_code(name: str) -> bool:
    is_path = os.path.basename(name) != name or name.endswith(ENDINGS)
    return not is_path and not os.path.isfile(name)


def _of_code(code: str, places: list[str], known: dict[str, dict[str, list[str]]]) -> list[str]:
    """The files of a client in the first of the folders that has some, else the code itself.

    known: what was found in each folder; filled.
    """
    for folder in filter(os.path.isdir, places):
        if folder not in known:
            known[folder] = by_code(folder)
        if files := known[folder].get(code):
            return _from_here(files)
    return [code]


def _from_here(paths: list[str]) -> list[str]:
    return [os.path.relpath(path) for path in paths]


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
