"""A step, other items of a step or other times of its rounds, put into the text of a program:
nothing else that stands there is written anew, so comments, blanks and line ends stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import yaml

from builder.drafting.ladder import Draft
from builder.drafting.write_yaml import item_list, step

BOM = "\ufeff"


def with_step(text: str, draft: Draft, after: int) -> str:
    """The program `text` with `draft` after its step number `after` (from 0).

    The text must be a program that was read without a fault.
    """
    mark, body = (BOM, text[1:]) if text.startswith(BOM) else ("", text)
    newline = "\r\n" if "\r\n" in body else "\n"
    steps = _steps(body)
    put = _into_brackets if steps.flow_style else _into_lines
    return mark + put(body, steps.value, draft, after, newline)


def with_items(text: str, step: int, items: Sequence[str | tuple[str, str]]) -> str:
    """The program `text` with other items in its step number `step` (from 0), which has some."""
    mark, body = (BOM, text[1:]) if text.startswith(BOM) else ("", text)
    newline = "\r\n" if "\r\n" in body else "\n"
    key, value = next(
        (key, value) for key, value in _steps(body).value[step].value if key.value == "items"
    )
    margin, start = key.start_mark.column, value.start_mark.index
    column = start - (body.rfind("\n", 0, start) + 1)
    made = item_list(items, margin + 2, column).replace("\n", newline)
    return mark + body[:start] + made + body[_end(body, value) :]


def with_times(text: str, times: Mapping[tuple[int, int], int]) -> str | None:
    """The program `text` with other numbers after `times:` of rounds, by step and round, all from
    0; None where one of them is not written."""
    mark, body = (BOM, text[1:]) if text.startswith(BOM) else ("", text)
    steps = _steps(body).value
    spans = []
    for (at, number), often in times.items():
        rounds = next(value.value for key, value in steps[at].value if key.value == "rounds")
        one = rounds[number].value if isinstance(rounds, list) else ""
        written = [v for k, v in one if k.value == "times"] if isinstance(one, list) else []
        if not written:
            return None
        spans.append((written[0].start_mark.index, written[0].end_mark.index, often))
    for start, end, often in sorted(spans, reverse=True):
        body = f"{body[:start]}{often}{body[end:]}"
    return mark + body


def _steps(body: str) -> Any:
    """The list of steps with the places of its parts."""
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    root: Any = yaml.compose(body, Loader=loader)
    return next(value for key, value in root.value if key.value == "steps")


def _into_lines(body: str, steps: list[Any], draft: Draft, after: int, newline: str) -> str:
    """Below the last line of the step, in line with its hyphen."""
    start = steps[after].start_mark.index
    line = body.rindex("\n", 0, start) + 1
    margin = body[line:start].index("-")
    dash = body[line:start][margin:]  # the hyphen with the blanks after it
    made = step(draft, margin + len(dash) + 1, " " * margin + dash)
    end = _line_end(body, _end(body, steps[after]))
    before = body[:end] if body[:end].endswith("\n") else body[:end] + newline
    return before + made.replace("\n", newline) + newline + body[end:]


def _into_brackets(body: str, steps: list[Any], draft: Draft, after: int, newline: str) -> str:
    """After the step in a list in brackets: on a line of its own, in line with the step."""
    start = steps[after].start_mark.index
    margin = " " * (start - (body.rfind("\n", 0, start) + 1))
    made = step(draft, len(margin) + 1).replace("\n", newline)
    if after + 1 < len(steps):
        at = steps[after + 1].start_mark.index
        return f"{body[:at]}{made},{newline}{margin}{body[at:]}"
    return _at_the_end(body, steps[after].end_mark.index, margin + made, newline)


def _at_the_end(body: str, end: int, made: str, newline: str) -> str:
    """After the last step of brackets, which may have a comma and a comment after it."""
    comma = "" if body[end:].lstrip().startswith(",") else ","
    end = end if comma else body.index(",", end) + 1
    stop = _line_end(body, end)
    rest = body[end:stop].strip()
    if rest and not rest.startswith("#"):  # the closing bracket stands on this line
        return f"{body[:end]}{comma}{newline}{made}{body[end:]}"
    return f"{body[:end]}{comma}{body[end:stop]}{made}{newline}{body[stop:]}"


def _end(body: str, node: Any) -> int:
    """Where the last sign of a step stands; YAML itself counts comments below a block to it."""
    if getattr(node, "flow_style", None):
        return int(node.end_mark.index)
    last = max(_leaves(node))
    return len(body[:last].rstrip())


def _leaves(node: Any) -> Iterator[int]:
    parts = node.value if isinstance(node.value, list) else []
    if not parts or node.flow_style:
        yield int(node.end_mark.index)
        return
    for part in parts:
        for one in part if isinstance(part, tuple) else (part,):
            yield from _leaves(one)


def _line_end(body: str, at: int) -> int:
    """After the end of the line in which `at` stands, its comment counted."""
    end = body.find("\n", at)
    return len(body) if end < 0 else end + 1
