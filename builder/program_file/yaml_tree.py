"""YAML text -> a tree of plain texts, lists and mappings, each with its place; knows no key.

Built from the parser's events and not from `yaml.compose`: no recursion at any depth, and
nothing is ever taken for a number, a date or a truth value (the word "no" is a word).
"""

from __future__ import annotations

import pathlib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import yaml

from builder.problems import Finding, KeyPath, Place, ProgramError, UsageError, place_at
from builder.program_file.decode_text import (
    HIDDEN,
    LINE_BREAK,
    NO_SUCH_CHARACTER,
    UNSEEN,
    empty_file,
    hidden_character,
    text_of,
)
from builder.program_file.yaml_errors import (
    NO_KEY,
    SECOND_DOCUMENT,
    TOO_DEEP,
    begins_with_sign,
    duplicate_key,
    foreign_letter,
    syntax_finding,
    unreadable,
)
from builder.text.foreign_letters import foreign_words
from builder.workspace.program_files import MAX_BYTES

Value = str | list["Value"] | dict[str, "Value"]

MAX_DEPTH = 20  # a program needs 5
MAX_FINDINGS = 20  # more do not help, and a hostile file could ask for a million

# The C parser where PyYAML was built with it (all wheels are).
LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True)
class Tree:
    """What a file holds. `value` is texts, lists and mappings; "" is an empty value.

    places: where each value begins; its key's place when it begins on a later line.
    keys:   the place of each key, by the path of its value.
    noted:  what was found in the file that does not keep it from being read.
    """

    file: str
    value: Value
    places: Mapping[KeyPath, Place] = field(default_factory=dict)
    keys: Mapping[KeyPath, Place] = field(default_factory=dict)
    noted: tuple[Finding, ...] = ()

    def place(self, path: KeyPath) -> Place:
        """The place of `path`, or of the nearest thing around it."""
        return place_at(self.places, path, self.file)


def read(path: pathlib.Path, name: str = "") -> Tree:
    """The tree of a file, called `name` in findings. UsageError when it cannot be opened."""
    try:
        with path.open("rb") as stream:
            data = stream.read(MAX_BYTES + 1)
    except OSError as error:
        raise UsageError(_unopened(path, error)) from None
    return parse(data, name or str(path))


def _unopened(path: pathlib.Path, error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return f"{path}: there is no such file."
    denied = isinstance(error, PermissionError)
    if isinstance(error, IsADirectoryError) or (denied and path.is_dir()):  # Windows denies
        return f"`{path}` is a folder; name a file in it, as in `{path / 'heron-07.yaml'}`."
    if denied:
        return f"You do not have permission to read `{path}`."
    return f"`{path}` cannot be opened: {error.strerror}."


def parse(data: bytes, file: str) -> Tree:
    """The tree of a file's bytes. ProgramError with a finding for whatever is in the way."""
    text, noted = text_of(data, file)
    builder = _TreeBuilder(file, text)
    try:
        for event in yaml.parse(text, Loader=LOADER):
            builder.handle(event)
    except yaml.MarkedYAMLError as error:
        builder.findings.append(syntax_finding(error, text, file))
    except (ValueError, OverflowError):  # the Python parser on "\\UFFFFFFFF"
        builder.findings.append(unreadable(Place(file), *NO_SUCH_CHARACTER))
    if findings := builder.all_findings():
        raise ProgramError(findings)
    return replace(builder.tree(), noted=noted)


@dataclass
class _Open:
    """A list or a mapping whose end was not seen yet. `key`: the one that awaits its value."""

    value: list[Value] | dict[str, Value]
    path: KeyPath
    key: str | None = None


def _alias_signs(event: Any) -> list[str]:
    """The signs of YAML's links and type names before a value; a program needs none."""
    if isinstance(event, yaml.AliasEvent):
        return ["*"]
    tag = getattr(event, "tag", None)
    return ["&"] * bool(event.anchor) + ["!"] * bool(tag)


class _TreeBuilder:
    """Takes the parser's events one by one; `open` holds what is open, outermost first."""

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.lines = LINE_BREAK.split(text)
        self.findings: list[Finding] = []
        self.signs: list[tuple[Place, str]] = []
        self.places: dict[KeyPath, Place] = {}
        self.keys: dict[KeyPath, Place] = {}
        self.open: list[_Open] = []
        self.root: Value | None = None

    def tree(self) -> Tree:
        if self.root is None or self.root == "":
            raise ProgramError([empty_file(self.file)])
        return Tree(self.file, self.root, self.places, self.keys)

    def all_findings(self) -> list[Finding]:
        """What was found: of all signs of YAML's own one finding, where the first of them is."""
        if not self.signs:
            return self.findings
        place, _ = self.signs[0]
        told = begins_with_sign(*(sign for _, sign in self.signs))
        return [*self.findings, unreadable(place, *told)]

    def handle(self, event: Any) -> None:
        """One event. Raises ProgramError where reading on would only mislead."""
        if isinstance(event, yaml.NodeEvent):
            self._refuse_extras(event)
            self._value(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            self.open.pop()
        elif isinstance(event, yaml.DocumentStartEvent) and self.root is not None:
            self._stop(event, *SECOND_DOCUMENT)

    def _value(self, event: Any) -> None:
        inside = self.open[-1] if self.open else None
        if inside and isinstance(inside.value, dict) and inside.key is None:
            self._key(inside, event)
            return
        value: Value = getattr(event, "value", "")
        if isinstance(event, yaml.CollectionStartEvent):
            value = {} if isinstance(event, yaml.MappingStartEvent) else []
        path = self._insert(inside, value, event)
        if not isinstance(value, str):
            self._enter(_Open(value, path), event)

    def _enter(self, new: _Open, event: Any) -> None:
        if len(self.open) == MAX_DEPTH:
            self._stop(event, *TOO_DEEP)
        self.open.append(new)

    def _insert(self, inside: _Open | None, value: Value, event: Any) -> KeyPath:
        if inside is None:
            self.root = value
            return ()
        if isinstance(inside.value, list):
            path: KeyPath = (*inside.path, len(inside.value))
            inside.value.append(value)
            self.places[path] = self._place(event)
            return path
        key, inside.key = inside.key or "", None
        path = (*inside.path, key)
        inside.value[key] = value
        at, key_at = self._place(event), self.keys[path]
        self.places[path] = at if at.line == key_at.line and value != "" else key_at
        return path

    def _key(self, inside: _Open, event: Any) -> None:
        key = getattr(event, "value", None)
        if not isinstance(key, str) or not key.strip():
            self._stop(event, *NO_KEY)
        key = " ".join(str(key).split())
        path = (*inside.path, key)
        if path in self.keys:
            self._fault(event, *duplicate_key(key, self.keys[path].line))
            key += f"\0{event.start_mark.index}"  # what stands below it collides with nothing
        self.keys[(*inside.path, key)] = self._place(event)
        inside.key = key

    def _refuse_extras(self, event: Any) -> None:
        if event.anchor or getattr(event, "tag", None):
            self.signs += [(self._place(event), sign) for sign in _alias_signs(event)]
        value = getattr(event, "value", "")
        if value.isascii() and value.isprintable():
            return  # as most are: neither hidden nor foreign
        if hidden := HIDDEN.search(value) or UNSEEN.search(value):  # typed with a backslash
            self.findings.append(hidden_character(self._place(event), hidden.group()))
        for word in foreign_words(value):
            self._add(foreign_letter(word, self._place_of(word, event)))

    def _place_of(self, word: str, event: Any) -> Place:
        """Where a word of a text begins; where the text does, if it is written otherwise there."""
        begin, end = event.start_mark, event.end_mark
        for at in range(begin.line, min(end.line + 1, len(self.lines))):
            column = self.lines[at].find(word, begin.column if at == begin.line else 0)
            if column >= 0:
                return Place(self.file, at + 1, column + 1)
        return self._place(event)

    def _place(self, event: Any) -> Place:
        return Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _fault(self, event: Any, sentence: str, remedy: str) -> None:
        self._add(unreadable(self._place(event), sentence, remedy))

    def _add(self, finding: Finding) -> None:
        self.findings.append(finding)
        if len(self.findings) >= MAX_FINDINGS:
            raise ProgramError(self.all_findings())

    def _stop(self, event: Any, sentence: str, remedy: str) -> None:
        self._fault(event, sentence, remedy)
        raise ProgramError(self.all_findings())
