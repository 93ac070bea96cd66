"""Keys that are missing or unknown in one mapping of a file, or name no group -> findings, one a
cause."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from pydantic import BaseModel

from builder.model.clinic import Clinic
from builder.model.program import CODE, ProgramFile
from builder.problems import Finding, KeyPath
from builder.program_file.normalise import NormalForm, fields, is_model, without_none
from builder.program_file.suggestions import PRIVATE_KEYS, example, label, listing, nearest, shorten
from builder.workspace.groups import NAME

MAX_UNKNOWN_KEYS = 50  # of one mapping; each is compared with all known ones
SURE_RATIO = 0.8  # so alike that no other explanation is looked for (difflib's ratio)


@dataclass(frozen=True)
class Keys:
    """The keys of one mapping: `missing` and `unknown` as the model saw them."""

    form: NormalForm
    model: type[BaseModel]
    path: KeyPath
    missing: tuple[str, ...]
    unknown: tuple[str, ...]


def key_findings(keys: Keys) -> dict[KeyPath, Finding]:
    """The findings by path. A misspelled key that is missed gives one, with the right key."""
    found: dict[KeyPath, Finding] = {}
    missing = [key for key in keys.missing if (*keys.path, key) not in keys.form.findings]
    free = [key for key in fields(kind_at(keys.model, keys.path)) if key not in _written(keys)]
    torn = _cut_off_by_commas(keys)
    for key in keys.unknown[:MAX_UNKNOWN_KEYS]:
        if key in torn:
            continue
        meant, remedy = _intended_key(keys, key, missing, free)
        missing = [k for k in missing if k != meant]
        free = [k for k in free if k != meant]
        found[*keys.path, key] = _unknown(keys, key, remedy)
    for key, remedy in torn.items():
        if remedy and len(found) < MAX_UNKNOWN_KEYS:
            found[*keys.path, key] = _unknown(keys, key, remedy)
    return found | {(*keys.path, key): _missing(keys, key) for key in missing}


def keys_not_indented(keys: Keys) -> Iterator[KeyPath]:
    """Keys left empty because their own keys are beside them, not indented below them."""
    for path in keys.form.empty:
        kind = kind_at(keys.model, path) if path[:-1] == keys.path else None
        if is_model(kind) and set(keys.unknown) & set(fields(kind)):
            yield path


def kind_at(model: type[BaseModel], path: KeyPath) -> Any:
    """The kind of the value at `path` in a file of this model; None when there can be none."""
    kind: Any = model
    for part in path:
        if is_model(kind):
            info = fields(kind).get(str(part))
            kind = info.annotation if info else None
        else:
            args = get_args(kind)
            kind = args[1] if get_origin(kind) is dict else args[0] if args else None
        kind = without_none(kind)
    return kind


def _written(keys: Keys) -> Mapping[str, Any]:
    value = keys.form.value
    for part in keys.path:
        value = value[part]
    return value if isinstance(value, dict) else {}


def _intended_key(keys: Keys, key: str, missing: list[str], free: list[str]) -> tuple[str, str]:
    """The key of this mapping that `key` stands for ("" when none does), and the remedy."""
    here = fields(kind_at(keys.model, keys.path))
    name, colon, rest = key.partition(":")
    if colon and name in here:
        return name, f"Put a space after the colon: `{name}: {shorten(rest.strip())}`."
    candidates = missing + [k for k in free if k not in missing]
    if near := nearest(key, candidates, SURE_RATIO):
        return near, f"Did you mean `{near}`?"
    if elsewhere := _elsewhere(keys, key):
        return "", elsewhere
    if near := nearest(key, candidates):
        return near, f"Did you mean `{near}`?"
    if len(here) == 1:
        return "", f"The only key that can be used here is {listing(here, 'and')}."
    return "", f"The keys that can be used here are {listing(here, 'and')}."


def _cut_off_by_commas(keys: Keys) -> dict[str, str]:
    """Pieces of a text that commas inside braces tore off, as in {tongue: Up, then back}.

    The first piece after a key has the remedy for all, the others have "".
    """
    written, unknown = _written(keys), set(keys.unknown)
    pieces: dict[str, list[str]] = {}
    known = ""
    for key, value in written.items():
        if key not in unknown or value != "":
            known = key if key not in unknown and _is_text(value) else ""
        elif known and ":" not in key:
            pieces.setdefault(known, []).append(key)
    torn = {key: "" for torn_off in pieces.values() for key in torn_off}
    first = {p[0]: _in_one_piece(written[key], key, p) for key, p in pieces.items()}
    return torn | first


def _is_text(value: Any) -> bool:
    listed = value if isinstance(value, list) else [value]
    return all(isinstance(text, str) for text in listed)


def _in_one_piece(value: Any, key: str, pieces: list[str]) -> str:
    if isinstance(value, list):
        return f"Put several values in brackets: `{key}: [{shorten(', '.join(value + pieces))}]`."
    whole = shorten(", ".join([str(value), *pieces]))
    return f'Put text with a comma in double quotes: `{key}: "{whole}"`.'


def _elsewhere(keys: Keys, key: str) -> str:
    """A remedy when `key` is known in another place of the file."""
    top = fields(keys.model)
    if not keys.path and key.lower() in PRIVATE_KEYS and "level" not in keys.unknown:
        return "Delete it: a client is known only by a code (`client`), never by name or birthday."
    if keys.path and key in top:
        return f"`{key}` belongs to the {_file(keys)} itself: begin its line at the left margin."
    for owner, info in top.items():
        kind = without_none(info.annotation)
        inner = get_args(kind)[0] if get_origin(kind) is tuple else kind
        if is_model(inner) and key in fields(inner) and owner not in keys.path:
            return (
                f"`{key}` belongs under `{owner}`: put it below that line, indented by two spaces."
            )
    return ""


def _unknown(keys: Keys, key: str, remedy: str) -> Finding:
    place = keys.form.keys.get((*keys.path, key)) or keys.form.place(keys.path)
    where = label(keys.path) if keys.path else f"a {_file(keys)}"
    return Finding(
        place, "unknown-key", "fault", f"`{shorten(key)}` is not a key of {where}.", remedy
    )


def _missing(keys: Keys, key: str) -> Finding:
    shown = example((*keys.path, key))
    about = fields(kind_at(keys.model, keys.path))[key].description or ""
    add = f"Add `{shown}`" if keys.path else f"Add a line such as `{shown}`"
    where = f" in {label(keys.path)}" if keys.path else ""
    return Finding(
        keys.form.place(keys.path),
        "missing-key",
        "fault",
        f"`{key}` is missing{where}.",
        f"{add}. {about[:1].upper()}{about[1:]}".strip(),
    )


def _file(keys: Keys) -> str:
    return "program" if keys.model is ProgramFile else "clinic file"


# Groups of the clinic file: a name that is no client's, with codes of clients


def wrong_groups(clinic: Clinic, form: NormalForm) -> Iterator[Finding]:
    """What is no name of a group, and what is no code in one."""
    for name, codes in clinic.groups.items():
        path: KeyPath = ("groups", name)
        if not re.fullmatch(NAME, name):
            yield _wrong_group(
                form,
                path,
                f"`{shorten(name)}` cannot be the name of a group.",
                "Use lowercase letters and hyphens, without digits, so that it is never taken for "
                "a client, as in `tuesday` or `grade-two`.",
            )
        for at, code in enumerate(codes):
            if not re.fullmatch(CODE, code):
                yield _wrong_group(
                    form,
                    (*path, at),
                    f"`{shorten(code)}` is no client's code.",
                    "List codes, as in `groups: {tuesday: [wren-01, finch-02]}`; never names.",
                )


def _wrong_group(form: NormalForm, path: KeyPath, sentence: str, remedy: str) -> Finding:
    place = form.keys.get(path) or form.place(path)
    return Finding(place, "value", "fault", sentence, remedy)
