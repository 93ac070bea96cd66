"""Normal forms: what may be written in several ways becomes one, before anything is validated.

The kinds of the model's fields steer it, so that a new field needs nothing here. Numbers, dates
and truth values must match a pattern before they are converted.
"""

from __future__ import annotations

import datetime
import re
import types
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, TypeGuard, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from builder.model.clinic import SoundCues
from builder.model.pause import Pause
from builder.model.program import Form, ItemFile, ProgramFile, RoundFile, Support
from builder.phonetics.inventory import UnknownSoundError, parse_sound
from builder.phonetics.position import POSITIONS, in_order, usual_positions
from builder.problems import Finding, KeyPath, Place, place_at
from builder.program_file.suggestions import BLANK, did_you_mean, example, label, nearest, shorten
from builder.program_file.yaml_tree import Tree, Value

BOOLEANS = {"yes": True, "true": True, "no": False, "false": False}
INTEGER = re.compile(r"[0-9]{1,9}")  # a longer number is out of every range
NUMBER = re.compile(r"[0-9]{1,9}(\.[0-9]{1,9})?")
DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")

PARAGRAPH = re.compile(r"\n\s*\n")
IN_PARAGRAPHS = "passage"  # the one text that may have several

FORMS = get_args(Form)
SUPPORTS = get_args(Support)
ROUNDS = tuple(f"{form} {support}" for form in FORMS for support in SUPPORTS)


@dataclass(frozen=True)
class NormalForm:
    """A file in its normal form, ready for the model.

    value:    the root mapping; None wherever `findings` holds something.
    places:   of what is written and of what it became: ("words", "initial", 2, "word").
    findings: by the path that they are about.
    empty:    those of these paths where a key has nothing after it.
    """

    file: str
    value: Any
    places: Mapping[KeyPath, Place]
    keys: Mapping[KeyPath, Place]
    findings: Mapping[KeyPath, Finding]
    empty: frozenset[KeyPath]

    def place(self, path: KeyPath) -> Place:
        """The place of `path`, or of the nearest thing around it."""
        return place_at(self.places, path, self.file)


def normal_form(tree: Tree, model: type[BaseModel]) -> NormalForm:
    """The normal form of a tree whose root is a mapping."""
    normaliser = _Normaliser(tree)
    value = normaliser.normalised(model, tree.value, ())
    return NormalForm(
        file=tree.file,
        value=value,
        places=normaliser.places,
        keys=tree.keys,
        findings=normaliser.findings,
        empty=frozenset(normaliser.empty),
    )


@cache
def fields(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """The fields of a model by the names that a file uses."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def without_none(kind: Any) -> Any:
    """A field's kind without `| None`."""
    if get_origin(kind) in (Union, types.UnionType):
        return next(k for k in get_args(kind) if k is not type(None))
    return kind


def is_model(kind: Any) -> TypeGuard[type[BaseModel]]:
    """Whether a kind is a mapping with keys of its own."""
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def takes_one(kind: Any) -> bool:
    """Whether a list of this kind may be written as its only entry, as in `position: initial`."""
    return kind is RoundFile or not (is_model(kind) or is_pair(kind))


def is_pair(kind: Any) -> bool:
    """Whether a kind is a list of exactly two, as of words for contrast."""
    return get_origin(kind) is tuple and len(get_args(kind)) == 2 and ... not in get_args(kind)


@cache
def _form(kind: Any) -> tuple[Any, Any, bool]:
    """A kind without `| None`, what it is made of (tuple, dict, Literal), whether it is a pair;
    there are few kinds and many values."""
    plain = without_none(kind)
    return plain, get_origin(plain), is_pair(plain)


class _Normaliser:
    """Walks a tree beside the model; collects findings, and places of what it makes."""

    def __init__(self, tree: Tree) -> None:
        self.tree = tree
        self.places = dict(tree.places)
        self.findings: dict[KeyPath, Finding] = {}
        self.empty: set[KeyPath] = set()

    def fault(self, path: KeyPath, sentence: str, remedy: str) -> None:
        """A finding at `path`, and None in its place."""
        self.findings[path] = Finding(self._near(path), "value", "fault", _upper(sentence), remedy)

    def _near(self, path: KeyPath) -> Place:
        return place_at(self.places, path, self.tree.file)

    def normalised(self, kind: Any, value: Value, path: KeyPath) -> Any:
        """`value` in the normal form of `kind`; None after a finding."""
        if path not in self.places:
            self.places[path] = self._near(path)
        kind, origin, pair = _form(kind)
        if isinstance(value, str) and not value.strip():
            return self._nothing(path)
        if value == BLANK:
            return self._blank(path)
        if is_model(kind):
            return self._group(kind, value, path)
        if pair and isinstance(value, list) and len(value) != 2:
            return self._not_two(value, path)
        if origin is tuple:
            return self._list(get_args(kind)[0], value, path)
        if origin is dict:
            return self._table(get_args(kind)[1], value, path)
        return self._single(kind, value, path)

    def _nothing(self, path: KeyPath) -> None:
        self.empty.add(path)
        if isinstance(path[-1], int):
            return self.fault(
                path, f"{label(path)} is empty.", "Write something there, or delete it."
            )
        shown = f", as in `{example(path)}`" if example(path) else ""
        remedy = f"Write a value{shown}, or delete the line."
        return self.fault(path, f"{label(path)} has nothing after it.", remedy)

    def _blank(self, path: KeyPath) -> None:
        shown = f", as in `{example(path)}`" if example(path) else ""
        remedy = f"Write your own value{shown}, or delete the line if you do not know it."
        self.fault(path, f"{label(path)} is still to be filled in.", remedy)

    def _group(self, kind: type[BaseModel], value: Value, path: KeyPath) -> Any:
        if isinstance(value, str) and kind is ItemFile:
            value = {"word": value}
        if isinstance(value, str) and kind is RoundFile:
            return self._round(value, path)
        if not isinstance(value, dict):
            if kind is SoundCues:
                shown = "cues: {k: {tongue: The back of the tongue goes up.}}"
                sentence = f"{label(path)} must be a sound with cues below it."
                return self.fault(path, sentence, f"Write it as in `{shown}`.")
            wanted = "text" if kind in (ItemFile, RoundFile) else "keys of its own"
            return self._wrong(wanted, value, path)
        if kind is ProgramFile:
            value = self._by_position(_with_positions(value))
        known = fields(kind)
        return {
            key: self.normalised(known[key].annotation, inner, (*path, key))
            if key in known
            else inner
            for key, inner in value.items()
        }

    def _round(self, text: str, path: KeyPath) -> Any:
        words = text.lower().split()
        form = [w for w in words if w in FORMS]
        support = [w for w in words if w in SUPPORTS]
        if len(form) > 1 or len(support) > 1 or len(form) + len(support) < len(words):
            remedy = did_you_mean(" ".join(words), ROUNDS)
            return self.fault(path, f"a round cannot be `{shorten(text)}`.", remedy)
        made = {"form": form, "support": support}
        self.places |= {(*path, key): self._near(path) for key in made}
        return {key: word[0] for key, word in made.items() if word}

    def _not_two(self, value: list[Value], path: KeyPath) -> None:
        few = {0: "no words", 1: "one word"}.get(len(value), f"{len(value)} words")
        shown = "[[key, tea], [cape, tape]]"
        remedy = f"Put two words in the brackets of each pair: `contrast: {shown}`."
        self.fault(path, f"{label(path)} has {few} instead of two.", remedy)

    def _list(self, kind: Any, value: Value, path: KeyPath) -> Any:
        if isinstance(value, str) and takes_one(kind):
            if "," in value and get_origin(kind) is Literal:
                return self._commas(value, path)
            value = [value]
        if not isinstance(value, list):
            return self._wrong("one value or a list" if takes_one(kind) else "a list", value, path)
        if is_pair(kind) and value and all(isinstance(inner, str) for inner in value):
            value = [value]  # one pair, without the brackets around it
        return [self.normalised(kind, inner, (*path, i)) for i, inner in enumerate(value)]

    def _commas(self, value: str, path: KeyPath) -> None:
        shown = f"`{path[-1]}: [{shorten(value)}]`"
        self.fault(path, f"{label(path)} has several values.", f"Put them in brackets: {shown}.")

    def _table(self, kind: Any, value: Value, path: KeyPath) -> Any:
        if isinstance(value, str) and path == ("words",):
            shown = shorten(value.strip("[]"))
            return self.fault(
                path,
                f"{label(path)} needs a list, not text.",
                f"Put brackets around it and commas between: `words: [{shown}]`.",
            )
        if not isinstance(value, dict):
            return self._wrong("keys of its own", value, path)
        return {key: self.normalised(kind, inner, (*path, key)) for key, inner in value.items()}

    def _single(self, kind: Any, value: Value, path: KeyPath) -> Any:
        if not isinstance(value, str):
            return self._wrong("one value", value, path)
        text = " ".join(value.split())
        if path[-1:] == (IN_PARAGRAPHS,):
            text = "\n".join(" ".join(part.split()) for part in PARAGRAPH.split(value.strip()))
        if _form(kind)[1] is Literal and isinstance(get_args(kind)[0], int):
            kind = int
        if kind not in CONVERSIONS:
            return text
        converted = CONVERSIONS[kind](text)
        if isinstance(converted, str):
            self.fault(path, f"{label(path)} must be {converted}", _as_in(path))
            return None
        return converted

    def _wrong(self, wanted: str, value: Value, path: KeyPath) -> None:
        given = {list: "a list", dict: "a group of keys", str: "text"}[type(value)]
        self.fault(path, f"{label(path)} needs {wanted}, not {given}.", _as_in(path))

    def _by_position(self, value: dict[str, Value]) -> dict[str, Value]:
        """The words in a plain list -> in a list by their position, when there is only one."""
        words, written = value.get("words"), value.get("position") or "initial"
        if not isinstance(words, list):
            return value
        listed = written if isinstance(written, list) else [written]
        positions = dict.fromkeys(p for p in listed if isinstance(p, str) and p)
        if len(positions) > 1:
            shown = ", ".join(f"{p}: [...]" for p in positions)
            self.fault(
                ("words",),
                "With several positions, each one needs its own list of words.",
                f"Write `words: {{{shown}}}`, each word under the position where it has the sound.",
            )
            return {key: inner for key, inner in value.items() if key != "words"}
        one = next(iter(positions), "initial")
        one = one if one in POSITIONS else nearest(one, POSITIONS) or "initial"
        for path, place in self.tree.places.items():
            if path[:1] == ("words",):
                self.places["words", one, *path[1:]] = place
        return {**value, "words": {one: words}}


def _with_positions(value: dict[str, Value]) -> dict[str, Value]:
    """The usual positions of a vowel with r where none is given: those of its lists, if any."""
    with suppress(UnknownSoundError):
        sound = parse_sound(str(value.get("sound")))
        if sound.kind == "rhotic" and not value.get("position"):
            there = isinstance(lists := value.get("words"), dict) and in_order(lists, sound)
            return {**value, "position": list(there or usual_positions(sound))}
    return value


def _upper(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _as_in(path: KeyPath) -> str:
    shown = example(path)
    return f"Write it as in `{shown}`." if shown else ""


def _whole(text: str) -> int | str:
    return int(text) if INTEGER.fullmatch(text) else f"a whole number, not `{shorten(text)}`."


def _number(text: str) -> float | str:
    return float(text) if NUMBER.fullmatch(text) else f"a number, not `{shorten(text)}`."


def _boolean(text: str) -> bool | str:
    return BOOLEANS.get(text.lower(), f"`yes` or `no`, not `{shorten(text)}`.")


def _date(text: str) -> datetime.date | str:
    if not DATE.fullmatch(text):
        return f"a date (year-month-day), not `{shorten(text)}`."
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        return f"a real date; there is no {text}."


def _pause(text: str) -> Pause | str:
    """A date, or the first and the last with two dots between."""
    first, dots, last = text.partition("..")
    dates = [_date(first.strip()), _date((last if dots else first).strip())]
    if wrong := [date for date in dates if isinstance(date, str)]:
        return wrong[0]
    begin, end = (date for date in dates if isinstance(date, datetime.date))
    return f"in the order of the days, not `{text}`." if end < begin else Pause(begin, end)


# A text -> the value, or what it must be instead.
CONVERSIONS: dict[Any, Callable[[str], Any]] = {
    int: _whole,
    float: _number,
    bool: _boolean,
    datetime.date: _date,
    Pause: _pause,
}
