"""What the YAML parser could not read -> a sentence and a remedy in an author's words.

The parser's own messages serve only to tell the cases apart; nobody ever reads them.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from typing import Any

from builder.problems import Finding, Place
from builder.program_file.suggestions import shorten
from builder.text.foreign_letters import first_foreign

Advice = tuple[str, str]
"""A sentence and its remedy."""

TOO_DEEP = (
    "More than 20 lists or groups are nested here.",
    "A program needs five at most; look for brackets or hyphens that do not belong here.",
)
NO_KEY = (
    "The key is missing, or is not a plain word.",
    "Write a key, a colon, a space and the value, as in `sound: k`.",
)
SECOND_DOCUMENT = (
    "A second document begins here, after `---`; a file holds one program.",
    "Delete the line `---`, or move what follows to a file of its own.",
)
NOT_ALIGNED = (
    "This line is not aligned with the lines it belongs to.",
    "Begin the keys of a group in the same column, and the items of a list with `- ` directly "
    "below each other.",
)
INDENTED_TOO_FAR = (
    "This line is indented further than the line above it.",
    "Lines that belong together begin in the same column: move this line back, or put back the "
    "spaces that the line above it has lost.",
)
SECOND_COLON = (
    "There is a second colon on this line.",
    'Put the text after the first colon in double quotes, as in `tongue: "Up: behind the teeth"`.',
)
OPEN_QUOTE = (
    "A quotation mark opens here and is never closed.",
    "Close it with the same mark; if it is an apostrophe, put the text in double quotes.",
)
BACKSLASH = (
    "A backslash in double quotes has a special meaning, and this one cannot be understood.",
    "Use single quotes around this text, or leave out the backslash.",
)
AFTER_CLOSING = (
    "There is something after a closing quotation mark or bracket.",
    "Put the whole text in double quotes; an apostrophe does no harm inside them.",
)
DASH_INSIDE = (
    "A list with hyphens cannot begin on the same line as its key.",
    "Begin each item on a line of its own below the key, or use brackets: `words: [key, cow]`.",
)
BLOCK_SIGN = (
    "After `|` or `>` the text must begin on the next line.",
    "Move the text to the next line, indented by two spaces, or put it in double quotes.",
)
MISSING_VALUE = (
    "A value is missing here.",
    "Look for an extra comma, bracket or brace.",
)
AFTER_END = (
    "The line `...` ends the file, but something follows it.",
    "Delete the line `...`.",
)
PERCENT = (
    "A line cannot begin with `%`.",
    "Delete this line, or put the text in double quotes.",
)
NO_COLON = (
    "This line has no colon, and no hyphen before it.",
    "Write a key, a colon, a space and the value (`sound: k`); an item of a list begins with `- `, "
    "as in `- {name: words, level: word}`.",
)
UNCLEAR = (
    "This line cannot be read.",
    "Write a key, a colon, a space and the value; put text with unusual characters in double "
    "quotes.",
)


def unreadable(place: Place, sentence: str, remedy: str) -> Finding:
    """A fault in what the file looks like, before its meaning is known."""
    return Finding(place, "reading", "fault", sentence, remedy)


def duplicate_key(key: str, line: int) -> Advice:
    """For a key that is on `line` already."""
    return f"`{key}` is listed twice; the first one is on line {line}.", "Keep one of the two."


def begins_with_sign(sign: str, *others: str) -> Advice:
    """For a text that begins with a sign that YAML keeps for itself, and others below it."""
    signs = " or ".join(f"`{one}`" for one in dict.fromkeys((sign, *others)))
    more = f" (and {len(others)} more below)" if others else ""
    remedy = f'Put the text in double quotes, as in `"{sign}text"`, or leave out the `{sign}`.'
    return f"Text cannot begin with {signs}{more}.", remedy


def foreign_letter(word: str, place: Place) -> Finding:
    """For a word with a letter that only looks like ours, and the place where it begins."""
    at, twin = first_foreign(word)
    alphabet = unicodedata.name(word[at]).split()[0].title()
    return unreadable(
        Place(place.file, place.line, place.column + at),
        f"The `{word[at]}` in `{word}` is not our letter but the {alphabet} one that looks like it "
        f"(U+{ord(word[at]):04X}).",
        f"Delete it and type `{twin}`.",
    )


def syntax_finding(error: Any, text: str, file: str) -> Finding:
    """The finding for a parser's error (yaml.MarkedYAMLError) on `text`."""
    lines = re.split(r"\r\n|\r|\n", text)
    said = f"{error.context or ''}: {error.problem or ''}"
    case = next((case for words, case in _CASES if re.search(words, said)), _unclear)
    mark, advice = case(error, lines)
    return unreadable(Place(file, mark[0] + 1, mark[1] + 1), *advice)


Mark = tuple[int, int]
"""Line and column, from 0."""
Case = Callable[[Any, list[str]], tuple[Mark, Advice]]


def _mark(mark: Any) -> Mark:
    return (mark.line, mark.column) if mark else (0, 0)


def _at_the_problem(advice: Advice) -> Case:
    return lambda error, lines: (_mark(error.problem_mark), advice)


def _at_the_beginning(advice: Advice) -> Case:
    return lambda error, lines: (_mark(error.context_mark or error.problem_mark), advice)


def _line(lines: list[str], at: int) -> str:
    return lines[at] if 0 <= at < len(lines) else ""


def _sign(error: Any, lines: list[str]) -> tuple[Mark, Advice]:
    line, column = _mark(error.context_mark or error.problem_mark)
    return (line, column), begins_with_sign(_line(lines, line)[column : column + 1] or "?")


def _bracket(error: Any, lines: list[str]) -> tuple[Mark, Advice]:
    """A list or group in brackets: placed where it opens, with the place where it went wrong."""
    opened, stuck = _mark(error.context_mark), _mark(error.problem_mark)
    opening = _line(lines, opened[0])[opened[1] : opened[1] + 1]
    closing = "}" if opening == "{" else "]"
    if not "".join([_line(lines, stuck[0])[stuck[1] :], *lines[stuck[0] + 1 :]]).strip():
        where = "the end of the file"
    elif stuck[0] == opened[0]:
        where = f"column {stuck[1] + 1}"
    else:
        where = f"line {stuck[0] + 1}"
    return opened, (
        f"The `{opening}` that opens here is not closed, or a comma is missing before {where}.",
        f"Put a comma between the entries and `{closing}` after the last one.",
    )


def _not_aligned(error: Any, lines: list[str]) -> tuple[Mark, Advice]:
    """Something where a new key or item was expected."""
    line, column = _mark(error.problem_mark)
    if torn := _missing_space(line, lines):
        return torn
    before, char = _line(lines, line)[:column], _line(lines, line)[column : column + 1]
    if before.strip(" -"):
        return (line, column), AFTER_CLOSING
    return (line, column), NO_KEY if char == ":" else NOT_ALIGNED


def _second_colon(error: Any, lines: list[str]) -> tuple[Mark, Advice]:
    line, column = _mark(error.problem_mark)
    if re.search(r":(\s|$)", _line(lines, line)[:column]):
        return (line, column), SECOND_COLON
    above = line - 1
    while above > 0 and not _line(lines, above).split("#")[0].strip():
        above -= 1
    return _missing_space(above, lines) or ((line, _indent(_line(lines, line))), INDENTED_TOO_FAR)


def _no_colon(error: Any, lines: list[str]) -> tuple[Mark, Advice]:
    line, column = _mark(error.context_mark or error.problem_mark)
    return _missing_space(line, lines) or ((line, column), NO_COLON)


def _missing_space(at: int, lines: list[str]) -> tuple[Mark, Advice] | None:
    """For `sound:k` and `-cow`: the colon or hyphen without a space after it."""
    line = _line(lines, at)
    if found := re.match(r"\s*-(?=[^\s-])", line):
        return (at, found.end() - 1), (
            "The hyphen before a list item needs a space after it.",
            f"Write `- {shorten(line.strip()[1:])}`.",
        )
    if found := re.match(r"(?:\s*-\s+|\s*)([A-Za-z_]+):(?=\S)", line):
        return (at, found.end(1)), (
            "The colon after a key needs a space after it.",
            f"Write `{found[1]}: {shorten(line[found.end() :].strip())}`.",
        )
    return None


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def _unclear(error: Any, lines: list[str]) -> tuple[Mark, Advice]:
    return _mark(error.problem_mark or error.context_mark), UNCLEAR


# What the parsers (libyaml and PyYAML's own) say, as far as both agree -> the case.
_CASES: tuple[tuple[str, Case], ...] = (
    (r"<document start>", _at_the_problem(AFTER_END)),
    (r"nesting", _at_the_beginning(TOO_DEEP)),
    (r"escape|hexdecimal|hexadecimal", _at_the_problem(BACKSLASH)),
    (r"quoted scalar", _at_the_beginning(OPEN_QUOTE)),
    (r"scanning a block scalar", _at_the_beginning(BLOCK_SIGN)),
    (r"directive|incompatible YAML|%YAML", _at_the_beginning(PERCENT)),
    (r"scanning an? (alias|anchor|tag)|cannot start any token|undefined tag|tag handle", _sign),
    (r"mapping keys are not allowed", _sign),
    (r"flow (sequence|mapping): .*expected ','", _bracket),
    (r"node content", _at_the_problem(MISSING_VALUE)),
    (r"block (mapping|collection)", _not_aligned),
    (r"mapping values are not allowed", _second_colon),
    (r"sequence entries are not allowed", _at_the_problem(DASH_INSIDE)),
    (r"simple key", _no_colon),
)
