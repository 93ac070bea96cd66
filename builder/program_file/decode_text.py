"""A file's bytes -> its text, with one clear answer when they are not text; knows no YAML."""

from __future__ import annotations

import re
import unicodedata

from builder.problems import Finding, Place, ProgramError
from builder.program_file.yaml_errors import unreadable
from builder.workspace.program_files import MAX_BYTES

# Characters that no one can see and that YAML forbids or takes for line breaks, or that show the
# text around them in another order than it is read.
HIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\ud800-\udfff\ufffe\uffff]")
# Characters that no one can see and that mean nothing here, but would make another word of the one
# they are in. The joiner of two emoji (U+200D between signs that are no letters) makes one picture.
UNSEEN = re.compile(
    r"[\u00ad\u200b\u200c\u200e\u200f\u2060-\u2069\ufeff]|(?<=\w)\u200d|\u200d(?=[\w\s]|$)"
)
# Spaces that look like a plain one (pasted from a word processor or a web page).
SPACES = re.compile("[\t\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")
TAB_FIRST = re.compile(r"^ *\t[ \t]*(?=[^\s#])", re.MULTILINE)
LINE_BREAK = re.compile(r"\r\n|\r|\n")

NOT_TEXT = (
    "The file is not plain text: perhaps a picture, a recording or a word-processor document.",
    "Name the program, a plain text file whose name ends in `.yaml`.",
)
RICH_TEXT = (
    "The file was saved as rich text, with fonts and sizes.",
    "Save it as plain text (in TextEdit: Format, then Make Plain Text).",
)
NO_SUCH_CHARACTER = (
    "A backslash in double quotes asks for a character that does not exist.",
    "Type the character itself, or use single quotes.",
)


def text_of(data: bytes, file: str) -> tuple[str, tuple[Finding, ...]]:
    """The bytes as text in which all spaces are plain ones and nothing is unseen, with one finding
    when something was; or ProgramError."""
    if len(data) > MAX_BYTES:
        raise ProgramError([_too_big(file)])
    text = _decoded(data, file)
    for finding in (_hidden(text, file), _tabs(text, file)):
        if finding:
            raise ProgramError([finding])
    seen = SPACES.sub(" ", UNSEEN.sub("", text))  # spaces one for one, so that columns stay
    if not seen.strip():
        raise ProgramError([empty_file(file)])
    return seen, _unseen(text, file)


def _too_big(file: str) -> Finding:
    return unreadable(
        Place(file),
        "The file is larger than 1 MB; a program has a few thousand characters.",
        "Check that this is the right file; pictures and recordings belong beside it.",
    )


def empty_file(file: str) -> Finding:
    """For a file without anything in it but comments."""
    return unreadable(
        Place(file),
        "The file is empty.",
        "Copy a working program into it and change the words there.",
    )


def _decoded(data: bytes, file: str) -> str:
    if data.startswith(b"{\\rtf"):
        raise ProgramError([unreadable(Place(file), *RICH_TEXT)])
    # A byte order mark before UTF-8 (Windows Notepad) changes nothing and is passed over.
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or _every_other_is_zero(data):
        raise ProgramError(
            [_wrong_encoding(Place(file), "The file was saved as UTF-16, not as UTF-8.")]
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if 0 in data:
            raise ProgramError([unreadable(Place(file), *NOT_TEXT)]) from None
        place = _place_after(error.object[: error.start].decode(), file)
    raise ProgramError(
        [_wrong_encoding(place, "This letter was saved in an old encoding, not as UTF-8.")]
    )


def _every_other_is_zero(data: bytes) -> bool:
    """Whether this is Latin text in UTF-16 without a byte order mark."""
    zeros = sorted((data[::2].count(0), data[1::2].count(0)))
    return zeros[0] == 0 and 4 * zeros[1] > len(data)


def _wrong_encoding(place: Place, sentence: str) -> Finding:
    return unreadable(
        place, sentence, "Save the file again as UTF-8 (Save As, then Encoding: UTF-8)."
    )


def _place_after(before: str, file: str) -> Place:
    """The place of the character that follows the text `before`."""
    lines = LINE_BREAK.split(before)
    return Place(file, len(lines), len(lines[-1]) + 1)


def _hidden(text: str, file: str) -> Finding | None:
    found = HIDDEN.search(text)
    if not found:
        return None
    return hidden_character(_place_after(text[: found.start()], file), found.group())


def _unseen(text: str, file: str) -> tuple[Finding, ...]:
    found = list(UNSEEN.finditer(text))
    if not found:
        return ()
    more = f" (and {len(found) - 1} more below)" if len(found) > 1 else ""
    sign = found[0].group()
    return (
        Finding(
            _place_after(text[: found[0].start()], file),
            "invisible",
            "advice",
            f"There is an invisible character here, a {unicodedata.name(sign).lower()} "
            f"(U+{ord(sign):04X}){more}; it is passed over.",
            "Delete the letters around this place and type them again.",
        ),
    )


def hidden_character(place: Place, char: str) -> Finding:
    """For a character that `HIDDEN` or `UNSEEN` matches."""
    return unreadable(
        place,
        f"There is an invisible character here (U+{ord(char):04X}).",
        "Delete the characters around this place and type them again.",
    )


def _tabs(text: str, file: str) -> Finding | None:
    lines = list(TAB_FIRST.finditer(text.replace("\r\n", "\n").replace("\r", "\n")))
    if not lines:
        return None
    more = f" (and {len(lines) - 1} more below)" if len(lines) > 1 else ""
    first = lines[0]
    column = first.group().index("\t") + 1
    return unreadable(
        Place(file, first.string.count("\n", 0, first.start()) + 1, column),
        f"This line is indented with a tab{more}.",
        "Delete the gap before its first letter and type it again with the space bar.",
    )
