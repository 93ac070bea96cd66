"""The groups of a clinic file: clients who share a sitting time, never a site. A group's name may
stand wherever a client's code may.

Loads nothing heavy: the file is read only where a name is no code and no path. Whether it is right
in all other ways is for `program_file` to say.
"""

from __future__ import annotations

import os
import re

from builder.workspace.program_files import CLINIC, EXAMPLES, PROGRAMS, by_code

NAME = r"[a-z]+(-[a-z]+)*"  # letters and hyphens: no client's code, which ends in digits


def expanded(names: list[str], root: str) -> list[str]:
    """The names with the codes of its clients in the place of each group, each client once.

    root: the practice folder, "" for none. Raises UsageError for a group with a code that no client
    has, OSError.
    """
    found: list[str] = []
    for name in names:
        found += members(name, root) or [name]
    return list(dict.fromkeys(found))


def members(name: str, root: str) -> list[str]:
    """The codes of the clients of a group, in its order; none where there is no such group. Raises
    as `expanded`."""
    if not root or not re.fullmatch(NAME, name):
        return []
    for folder in (os.path.join(root, PROGRAMS), os.path.join(root, EXAMPLES)):
        file = os.path.join(folder, CLINIC)
        if os.path.isfile(file) and (codes := groups_in(file).get(name)):
            known = by_code(folder)
            if unknown := [code for code in codes if code not in known]:
                raise _usage_error(
                    f"{name}: this group of {os.path.relpath(file)} names {', '.join(unknown)}, "
                    "but no client has that code. Correct it there."
                )
            return list(dict.fromkeys(codes))
    return []


def codes_of_group(name: str, root: str) -> list[str]:
    """The same of a group that must be there. Raises UsageError where it is not."""
    codes = members(name, root)
    if not codes:
        raise _usage_error(
            f"{name}: there is no such group. Groups stand in `clinic.yaml`, as in "
            "`groups: {tuesday: [wren-01, finch-02]}`."
        )
    return codes


def groups_in(file: str) -> dict[str, list[str]]:
    """The codes by group of a clinic file; what is not a list of texts is left out. A file that is
    no YAML has none. Raises OSError."""
    import yaml  # 20 ms, which a build with nothing to do has no use for

    with open(file, encoding="utf-8", errors="replace") as stream:
        try:
            whole = yaml.load(stream, getattr(yaml, "CBaseLoader", yaml.BaseLoader))
        except (yaml.YAMLError, RecursionError):
            return {}
    written = whole.get("groups") if isinstance(whole, dict) else None
    found = written.items() if isinstance(written, dict) else ()
    return {str(name): _codes(value) for name, value in found}


def _codes(value: object) -> list[str]:
    listed = value if isinstance(value, list) else [value]
    return [one.strip() for one in listed if isinstance(one, str) and one.strip()]


def _usage_error(message: str) -> Exception:
    from builder.problems import UsageError  # it loads `dataclasses` and `inspect`

    return UsageError(message)
