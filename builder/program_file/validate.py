"""Tree -> model, with all findings at once, in an author's words.

The model (pydantic) says what is allowed; its own messages never leave this module.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from builder.cues.by_sound import read_key
from builder.model.clinic import Clinic
from builder.model.program import ProgramFile
from builder.problems import Finding, KeyPath, Place, ProgramError
from builder.program_file.key_errors import (
    Keys,
    key_findings,
    keys_not_indented,
    kind_at,
    wrong_groups,
)
from builder.program_file.normalise import NormalForm, fields, normal_form
from builder.program_file.suggestions import did_you_mean, example, label, shorten
from builder.program_file.yaml_tree import Tree
from builder.text.wording import languages

M = TypeVar("M", bound=BaseModel)

# What a key's pattern asks for.
PATTERN_ADVICE = {
    "client": "A code is lowercase letters, a hyphen and two to four digits, as in `heron-07`; "
    "never a name.",
    "base_url": "Write the whole web address, as in `https://practice.example.org`.",
    "id": "Use lowercase letters, digits and single hyphens, as in `two-words`.",
    "language": "It can be `en`, or `en` and a country, as in `en-US` or `en-GB`.",
}


def program_file(tree: Tree) -> tuple[ProgramFile, Mapping[KeyPath, Place]]:
    """The program that a tree holds, as written, and the place of everything in it.

    Places are by the paths of `ProgramFile` and as written: a word of a plain list is
    ("words", "initial", 2) there and ("words", 2) in the file. ProgramError with every finding.
    """
    written, form = _validated(tree, ProgramFile, "program")
    if findings := list(_wrong_languages(written.interface, form)):
        raise ProgramError(findings)
    return written, form.places


def clinic_file(tree: Tree) -> Clinic:
    """The clinic's settings that a tree holds. ProgramError with every finding."""
    clinic, form = _validated(tree, Clinic, "clinic")
    if findings := [
        *_wrong_languages(clinic.interface, form),
        *_wrong_cue_keys(clinic, form),
        *wrong_groups(clinic, form),
    ]:
        raise ProgramError(findings)
    return clinic


def _wrong_languages(written: tuple[str, ...], form: NormalForm) -> Iterator[Finding]:
    """Pages and sheets can be in the languages that there are words in."""
    for at, language in enumerate(written):
        if language not in languages():
            there = " and ".join(f"`{one}`" for one in languages())
            yield Finding(
                form.place(("interface", at)),
                "value",
                "fault",
                f"There are no words for pages and sheets in `{shorten(language)}`.",
                f"There are words in {there}. Write one of them, or several, as in "
                f"`interface: [{', '.join(languages())}]`.",
            )


def _wrong_cue_keys(clinic: Clinic, form: NormalForm) -> Iterator[Finding]:
    """Cues are listed by sound, or by sound and shape of the tongue, each once."""
    first: dict[object, str] = {}
    for written in clinic.cues:
        path: KeyPath = ("cues", written)
        try:
            key = read_key(written)
        except ValueError as problem:
            sentence = f"{problem}"
        else:
            if first.setdefault(key, written) == written:
                continue
            sentence = f"`{written}` and `{first[key]}` are the same sound"
        yield Finding(
            form.keys.get(path) or form.place(path),
            "value",
            "fault",
            f"{sentence[:1].upper()}{sentence[1:]}.",
            "Name the sound, or the sound and the shape of the tongue, as in "
            "`cues: {s tip down: {tongue: The tip rests low.}}`.",
        )


def _validated(tree: Tree, model: type[M], kind: str) -> tuple[M, NormalForm]:
    if finding := _wrong_kind_of_file(tree, kind):
        raise ProgramError([finding])
    form = normal_form(tree, model)
    try:
        made = model.model_validate(form.value)
    except ValidationError as error:
        raise ProgramError(_findings(form, model, error.errors(include_url=False))) from None
    if form.findings:
        raise ProgramError(list(form.findings.values()))
    return made, form


def _wrong_kind_of_file(tree: Tree, kind: str) -> Finding | None:
    """A finding when this is no file of this kind at all; then nothing else is worth saying."""
    kinds = {"program": "a program", "clinic": "a clinic file"}
    other = "clinic" if kind == "program" else "program"
    if not isinstance(tree.value, dict):
        sentence = f"The file is not {kinds[kind]}: it is not made up of keys with values."
        remedy = f"Begin with `{kind}: 1`, with a colon and a space after each key."
    elif other in tree.value and kind not in tree.value:
        sentence = f"This is {kinds[other]}, but {kinds[kind]} is expected here."
        remedy = f"Name another file, or begin this one with `{kind}: 1`."
    else:
        return None
    return Finding(Place(tree.file), "reading", "fault", sentence, remedy)


def _findings(form: NormalForm, model: type[BaseModel], errors: list[Any]) -> list[Finding]:
    """What the walk found, and what the model refused beyond that, one finding a cause."""
    found = dict(form.findings)
    for error in sorted(errors, key=lambda e: -len(e["loc"])):
        path = tuple(error["loc"])
        if error["type"] == "too_short" and _faulty_inside(path, errors):
            continue  # the list is short of the entries that have their own findings
        known = any(path[:n] in form.findings for n in range(len(path) + 1))
        if error["type"] not in ("missing", "extra_forbidden") and not known:
            found.setdefault(path, _value_finding(form, model, path, error))
    for keys in _keys(form, model, errors):
        found |= key_findings(keys)
        for path in keys_not_indented(keys):
            found.pop(path, None)
    return list(found.values())


def _faulty_inside(path: KeyPath, errors: list[Any]) -> bool:
    """Whether the model refused something within the list at `path`."""
    places = (tuple(error["loc"]) for error in errors)
    return any(len(place) > len(path) and place[: len(path)] == path for place in places)


def _keys(form: NormalForm, model: type[BaseModel], errors: list[Any]) -> list[Keys]:
    groups: dict[KeyPath, dict[str, list[str]]] = {}
    for error in errors:
        if error["type"] in ("missing", "extra_forbidden"):
            group = groups.setdefault(tuple(error["loc"][:-1]), {})
            group.setdefault(error["type"], []).append(str(error["loc"][-1]))
    return [
        Keys(form, model, path, tuple(g.get("missing", ())), tuple(g.get("extra_forbidden", ())))
        for path, g in groups.items()
    ]


def _value_finding(form: NormalForm, model: type[BaseModel], path: KeyPath, error: Any) -> Finding:
    """The finding for one error of the model about a value, or about a key of a table."""
    value = error["input"]
    if path and path[-1] == "[key]":
        return _table_key_finding(form, path[:-1], error)
    said = SENTENCES.get(error["type"])
    sentence = said(error.get("ctx", {}), value) if said else "cannot be used here"
    if error["type"] == "literal_error" and isinstance(value, int):
        sentence, remedy = _version(value)
    else:
        remedy = _remedy(model, path, error)
    name = label(path)
    return Finding(
        form.place(path),
        "value",
        "fault",
        f"{name[:1].upper()}{name[1:]} {sentence}.",
        remedy,
    )


def _table_key_finding(form: NormalForm, path: KeyPath, error: Any) -> Finding:
    sentence = f"`{shorten(str(path[-1]))}` is not a key of {label(path[:-1])}."
    place = form.keys.get(path) or form.place(path)
    return Finding(place, "unknown-key", "fault", sentence, _choices(error, str(path[-1])))


def _version(value: int) -> tuple[str, str]:
    sentence = f"asks for version {value}; this tool only knows version 1"
    return sentence, "Write `1`, or use a newer version of the tool."


def _remedy(model: type[BaseModel], path: KeyPath, error: Any) -> str:
    if error["type"] == "literal_error":
        return _choices(error, str(error["input"]))
    names = [part for part in path if isinstance(part, str)]
    if error["type"] == "string_pattern_mismatch" and names and names[-1] in PATTERN_ADVICE:
        return PATTERN_ADVICE[names[-1]]
    kind = kind_at(model, path[:-1]) if path else None
    about = fields(kind)[str(path[-1])].description if isinstance(kind, type) else ""
    shown = example(path)
    return " ".join(filter(None, [about, f"Write it as in `{shown}`." if shown else ""]))


def _choices(error: Any, written: str) -> str:
    """Did you mean, from the words that the model would take: "'mon', 'tue' or 'wed'"."""
    expected = str(error.get("ctx", {}).get("expected", ""))
    return did_you_mean(written, expected.split("'")[1::2])


def _letters(value: Any) -> str:
    return f"has {len(value)} characters" if isinstance(value, str) else "is too long"


# The model's kind of error -> how the sentence goes on after the name of the key.
SENTENCES: dict[str, Callable[[Mapping[str, Any], Any], str]] = {
    "literal_error": lambda ctx, value: f"cannot be `{shorten(str(value))}`",
    "string_pattern_mismatch": lambda ctx, value: f"cannot be `{shorten(str(value))}`",
    "greater_than_equal": lambda ctx, value: f"must be {ctx['ge']} or more, not {value}",
    "greater_than": lambda ctx, value: f"must be more than {ctx['gt']}, not {value}",
    "less_than_equal": lambda ctx, value: f"must be {ctx['le']} or less, not {value}",
    "less_than": lambda ctx, value: f"must be less than {ctx['lt']}, not {value}",
    "string_too_long": lambda ctx, value: (
        f"{_letters(value)}; at most {ctx['max_length']} are allowed"
    ),
    "too_short": lambda ctx, value: "is an empty list",
    "too_long": lambda ctx, value: f"has more than {ctx['max_length']} entries",
}
