"""Compares the shapes in types.d.ts with the Python ones that they mirror: keys, types, values."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

PLAIN = {str: "string", bool: "boolean", int: "number", float: "number", NoneType: "null"}


class Types:
    """The interfaces and type names of one file."""

    def __init__(self, file: Path) -> None:
        text = re.sub(r"/\*.*?\*/|//[^\n]*", "", file.read_text("utf-8"), flags=re.DOTALL)
        self.names = dict(re.findall(r"^export type (\w+) =\s*([^;{]*);", text, re.MULTILINE))
        self.interfaces = {
            name: {
                key: (kind, bool(optional))
                for key, optional, kind in re.findall(r"^  (\w+)(\??): (.+);$", body, re.MULTILINE)
            }
            for name, body in re.findall(r"export interface (\w+) \{(.*?)\n\}", text, re.DOTALL)
        }

    def shape(self, name: str) -> dict[str, str]:
        """Key -> type with all names of unions filled in; optional ones may be null."""
        found = self.interfaces[name]
        return {
            key: self._normal(f"{kind} | null" if optional else kind)
            for key, (kind, optional) in found.items()
        }

    def _normal(self, kind: str) -> str:
        filled = re.sub(r"\w+", lambda name: str(self.names.get(name[0], name[0])).strip(), kind)
        if filled != kind:
            return self._normal(filled)
        return _sorted(re.sub(r"(?<=[\[ ])\w+: ", "", kind))  # without the names within a tuple


def mirrored(fields: Mapping[str, Any]) -> dict[str, str]:
    """Python annotations by key -> the type that TypeScript has for each."""
    return {key: _sorted(_type(annotation)) for key, annotation in fields.items()}


def _type(annotation: Any) -> str:
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        return _type(arguments[0])
    if origin is Literal:
        return " | ".join(f'"{one}"' if isinstance(one, str) else str(one) for one in arguments)
    if origin in (Union, UnionType):
        return " | ".join(map(_type, arguments))
    if origin is tuple and arguments[-1] is Ellipsis:
        inner = _type(arguments[0])
        return f"({inner})[]" if " | " in inner else f"{inner}[]"
    if origin is tuple:
        return f"[{', '.join(map(_type, arguments))}]"
    if origin is dict:
        return f"Record<{', '.join(map(_type, arguments))}>"
    return PLAIN.get(annotation) or str(annotation.__name__)


def _sorted(kind: str) -> str:
    """A type with the members of its unions in order, as they have none of their own."""
    whole = kind.removesuffix(" | null")
    if many := re.fullmatch(r"\(?([^()\[\]]*)\)?\[\]", whole):
        return f"{_sorted(many[1])} []{kind[len(whole) :]}"
    return " | ".join(sorted({part.strip() for part in kind.split(" | ")}))
