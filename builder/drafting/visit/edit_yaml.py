"""One entry of a list or one key of a mapping changed in the text of a YAML file: every other sign
stays where it stands, and so does every comment.

A text is one that was read without a fault, without the mark before its first sign. Each function
gives the whole text anew, so places are looked up again for each change.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

import yaml

from builder.drafting.write_yaml import WIDTH, scalar
from builder.problems import UsageError

Keys = tuple[str | int, ...]
"""The way to a value: names of keys, numbers in lists from 0."""

BLOCKS = ("|", ">")
BY_HAND = "this layout cannot be changed here: make the change in your editor."

# A text in quotation marks, which begins a value, or a comment.
QUOTED_OR_COMMENT = re.compile(
    r"(?<![^\s,\[{:])(?:\"(?:\\.|[^\"\\])*\"|'(?:''|[^'])*')|(?:(?<=\s)|^)#[^\r\n]*", re.DOTALL
)


def find(body: str, keys: Keys) -> Any:
    """The node at `keys`; None where there is none. Raises UsageError where a change that was
    made before cannot be read."""
    try:
        node: Any = yaml.compose(body, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
    except yaml.YAMLError:
        raise UsageError(BY_HAND) from None
    for key in keys:
        parts = node.value if isinstance(getattr(node, "value", None), list) else []
        if isinstance(key, int):
            node = parts[key] if key < len(parts) else None
        else:
            node = next((v for k, v in parts if k.value == key), None)
    return node


def is_list(node: Any) -> bool:
    """Whether a node is a list."""
    return isinstance(node, yaml.SequenceNode)


def with_value(body: str, keys: Keys, written: str) -> str:
    """The text with `written` for the text, number or date at `keys`, a key of a mapping; the key
    is added behind the last one where it is missing."""
    node = find(body, keys)
    if node is None:
        return _with_key(body, keys[:-1], str(keys[-1]), written)
    start, end = node.start_mark.index, end_of(body, node)
    if start == end:  # `key:` with nothing after it
        start = end = body.index(":", _key(body, keys).end_mark.index) + 1
        written = " " + written
    return body[:start] + written + body[end:]


def with_entries(body: str, keys: Keys, written: Sequence[str]) -> str:
    """The text with more entries at the end of the list at `keys`, which has some."""
    for one in written:
        node = find(body, keys)
        last, first = node.value[-1], node.value[0]
        end = end_of(body, last)
        if node.flow_style:
            line, stop = _line_start(body, end), _line_end(body, end)
            wide = stop - line + len(one) + 2 > WIDTH and "#" not in body[end:stop]
            margin = _margin(body, first.start_mark.index)
            between = f",{newline_of(body)}{' ' * margin}" if wide else ", "
            body = body[:end] + between + one + body[end:]
        else:
            start = last.start_mark.index
            dash = re.sub(r"[^\s-]", " ", body[_line_start(body, start) : start])
            body = _with_line(body, end, dash + one)
    return body


def without_entry(body: str, keys: Keys, at: int) -> str:
    """The text without the entry number `at` of the list at `keys`, which has others."""
    node = find(body, keys)
    entries = node.value
    start, end = entries[at].start_mark.index, end_of(body, entries[at])
    if not node.flow_style:
        return _without_lines(body, body.rindex("-", 0, start), end)
    after = _comma(body, end)
    if after is None:  # the last one, and no comma behind it: that before it goes
        before = _comma(body, entries[at - 1].end_mark.index)
        assert before is not None
        body = _without(body, start, end)
        return _without(body, before, before + 1)
    body = _without(body, after, after + 1)
    return _without(body, start, end)


def without_key(body: str, key: str) -> str:
    """The text without a key at the left edge and its value; a comment there keeps a line."""
    found = _key(body, (key,))
    value = find(body, (key,))
    end = max(end_of(body, value), body.index(":", found.end_mark.index) + 1)
    return _without_lines(body, found.start_mark.index, end)


def with_line(body: str, key: str, written: str, *, after: bool) -> str:
    """The text with one more line before the key at the left edge, or after its value."""
    if after:
        return _with_line(body, end_of(body, find(body, (key,))), written)
    start = _key(body, (key,)).start_mark.index
    return body[:start] + written + newline_of(body) + body[start:]


def newline_of(body: str) -> str:
    """How lines end here."""
    return "\r\n" if "\r\n" in body else "\n"


def end_of(body: str, node: Any) -> int:
    """After the last sign of a value; the parser lets a block go on past comments, and a text of
    lines of its own (after `|` or `>`) up to the next key."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        return end_of(body, last[1] if isinstance(node, yaml.MappingNode) else last)
    start, end = int(node.start_mark.index), int(node.end_mark.index)
    lines = isinstance(node, yaml.ScalarNode) and node.style in BLOCKS
    return start + len(body[start:end].rstrip()) if lines else end


def mapping(values: Mapping[str, str]) -> str:
    """A mapping in braces; the values as they are to be written."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in values.items()) + "}"


def _key(body: str, keys: Keys) -> Any:
    return next(k for k, _ in find(body, keys[:-1]).value if k.value == keys[-1])


def _with_key(body: str, keys: Keys, key: str, written: str) -> str:
    node = find(body, keys)
    if not isinstance(node, yaml.MappingNode):  # `practice:` with nothing after it
        return with_value(body, keys, mapping({key: written}))
    if not node.value:
        at = node.start_mark.index + 1
        return f"{body[:at]}{key}: {written}{body[at:]}"
    end = end_of(body, node.value[-1][1])
    if node.flow_style:
        return f"{body[:end]}, {key}: {written}{body[end:]}"
    first = node.value[0][0].start_mark.index
    margin = " " * (first - _line_start(body, first))
    return _with_line(body, end, f"{margin}{key}: {written}")


def _with_line(body: str, at: int, written: str) -> str:
    """One more line below the one in which `at` stands."""
    end, newline = _line_end(body, at), newline_of(body)
    if end == len(body):
        return f"{body}{newline}{written}"
    end = body.index("\n", end) + 1
    return f"{body[:end]}{written}{newline}{body[end:]}"


def _without_lines(body: str, start: int, end: int) -> str:
    """Without the lines from `start` to `end`; each comment in them keeps a line of its own."""
    first, last = _line_start(body, start), _line_end(body, end)
    last = body.index("\n", last) + 1 if last < len(body) else last
    margin, newline = " " * (start - first), newline_of(body)
    found = (one.group() for one in QUOTED_OR_COMMENT.finditer(body[first:last]))
    kept = [margin + text.rstrip() + newline for text in found if text.startswith("#")]
    return body[:first] + "".join(kept) + body[last:]


def _without(body: str, start: int, end: int) -> str:
    """Without the signs from `start` to `end` inside brackets, and the blanks beside them; a line
    that had nothing else goes."""
    line, stop = _line_start(body, start), _line_end(body, end)
    before, after = body[line:start], body[end:stop]
    if not before.strip() and not after.strip() and stop < len(body):
        return body[:line] + body[body.index("\n", stop) + 1 :]
    rest = after.lstrip(" \t")
    if not rest or rest.startswith("#"):  # what is left at the end of a line
        return body[: line + len(before.rstrip(" \t") or before)] + body[end:]
    return body[:start] + body[stop - len(rest) :]


def _comma(body: str, at: int) -> int | None:
    """The place of the comma after an entry in brackets; None where the list ends."""
    while at < len(body):
        if body[at] == ",":
            return at
        if body[at] == "#":
            at = _line_end(body, at)
        elif body[at] in "]}":
            return None
        at += 1
    return None


def _margin(body: str, at: int) -> int:
    """The column of further lines of a list in brackets whose first entry stands at `at`: that of
    an entry which begins its line, else a little in from the line."""
    before = body[_line_start(body, at) : at]
    inside = before.lstrip(" ")
    return len(before) - len(inside) + (4 if inside[:1] == "-" else 2 if inside else 0)


def _line_start(body: str, at: int) -> int:
    return body.rfind("\n", 0, at) + 1


def _line_end(body: str, at: int) -> int:
    """Before the end of the line in which `at` stands."""
    end = body.find("\n", at)
    end = len(body) if end < 0 else end
    return end - 1 if end > at and body[end - 1] == "\r" else end


def written_word(node: Any) -> str:
    """The word of an entry of a list of words: a text alone, or the `word:` of a mapping."""
    if isinstance(node, yaml.MappingNode):
        return next((str(v.value) for k, v in node.value if k.value == "word"), "")
    return str(node.value)


def plain(text: str) -> str:
    """A text as an entry or a value, quoted where YAML needs it."""
    return scalar(text)
