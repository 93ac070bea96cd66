"""What can be wrong and where: places, findings, and the one error meant for authors.

Knows nothing of programs; everything else may import it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

Degree = Literal["fault", "advice"]
KeyPath = tuple[str | int, ...]
"""Where something is in a file, by its keys and entries: ("steps", 0, "items", 2)."""


@dataclass(frozen=True, order=True)
class Place:
    """A place in a file. `line` and `column` count from 1; 0 means the file as a whole."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


def place_at(places: Mapping[KeyPath, Place], path: KeyPath, file: str) -> Place:
    """The place of `path`, or of the nearest thing around it that is written, or of the file."""
    while path and path not in places:
        path = path[:-1]
    return places[path] if path in places else Place(file)


@dataclass(frozen=True, order=True)
class Finding:
    """One thing to mend or to consider: where, by which rule, how grave, what, what to do.

    `accepted` holds the program's own answer (`because`), "" while there is none.
    """

    place: Place
    rule: str
    degree: Degree
    sentence: str
    remedy: str = ""
    accepted: str = ""

    def __str__(self) -> str:
        state = "accepted" if self.accepted else self.degree
        head = f"{self.place}: {state}: {self.sentence} [{self.rule}]"
        if self.accepted:
            return f"{head}\n    because: {self.accepted}"
        return f"{head}\n    remedy: {self.remedy}" if self.remedy else head


def not_yet(finding: Finding) -> Finding:
    """A fault of a step that is not published yet: advice for now."""
    remedy = f"{finding.remedy} Once the step is published this is a fault."
    return replace(finding, degree="advice", remedy=remedy)


class ProgramError(Exception):
    """The way stops here. Carries every finding, sorted by file and line."""

    def __init__(self, findings: list[Finding] | tuple[Finding, ...]) -> None:
        self.findings = tuple(sorted(findings))
        super().__init__("\n".join(map(str, self.findings)))


class UsageError(Exception):
    """A file that cannot be opened, a folder that is not there, a misused command (exit code 2)."""


class SiteError(Exception):
    """MkDocs wrote something other than what was planned: a fault of this tool, not of a file."""


def standing(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The faults that nobody has answered: these stop a build."""
    return tuple(f for f in findings if f.degree == "fault" and not f.accepted)


def unanswered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """What no reason of the program has answered, faults and advice."""
    return tuple(f for f in findings if not f.accepted)


def counted(findings: tuple[Finding, ...]) -> str:
    """How many of each, in words: "1 fault, 2 pieces of advice, 0 accepted"."""
    faults = len(standing(findings))
    accepted = sum(1 for f in findings if f.accepted)
    advice = len(findings) - faults - accepted
    return (
        f"{faults} fault{'' if faults == 1 else 's'}, "
        f"{advice} piece{'' if advice == 1 else 's'} of advice, {accepted} accepted"
    )
