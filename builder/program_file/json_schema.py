"""JSON Schemas by which editors complete and check program and clinic files.

Made from the models; the several ways to write a thing, which forms.py brings to one, are put
back here. Editors read YAML 1.2 (`no` is a text there), other loaders 1.1 (`no` is false).
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from builder.model.clinic import Clinic
from builder.model.program import ProgramFile
from builder.program_file.normalise import FORMS, ROUNDS, SUPPORTS

Schema = dict[str, Any]

DIALECT = "http://json-schema.org/draft-07/schema#"  # the one that every editor knows
DATE = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
SINGLE = ("/RoundFile", "/Pause")  # an only one may stand without the brackets of a list
TEXT = ["string", "number"]  # a step may be called 2
# Any word, also those that YAML 1.2 takes for truth values (`true`); not offering these.
WORD = {"title": "word", "not": {"type": ["object", "array", "null"]}, "maxLength": 120}
# Half rounds and rounds the other way about are read as well, but not offered.
OTHER_ROUNDS = rf"^({'|'.join(SUPPORTS)})( ({'|'.join(FORMS)}))?$|^({'|'.join(FORMS)})$"


def program_schema() -> Schema:
    """The schema of a program file."""
    schema = _schema(ProgramFile, "A home practice program")
    properties, made = schema["properties"], schema["definitions"]
    words = properties["words"]
    by_position = _without(words, "description")
    plain = {"type": "array", "items": {"$ref": "#/definitions/ItemFile"}}
    properties["words"] = {"description": words["description"], "anyOf": [plain, by_position]}
    texts: list[Schema] = [{"enum": list(ROUNDS)}, {"type": "string", "pattern": OTHER_ROUNDS}]
    made["RoundFile"] = {"anyOf": [*texts, made["RoundFile"] | {"title": "round in detail"}]}
    made["ItemFile"] = {"anyOf": [WORD, made["ItemFile"] | {"title": "word with more"}]}
    return schema


def clinic_schema() -> Schema:
    """The schema of the clinic file."""
    return _schema(Clinic, "What all programs of a clinic share")


def _schema(model: type[BaseModel], title: str) -> Schema:
    made = model.model_json_schema(by_alias=True, ref_template="#/definitions/{model}")
    made["definitions"] = made.pop("$defs", {})
    restored: Schema = _restored(made)
    return {"$schema": DIALECT, "title": title} | restored


def _restored(node: Any) -> Any:
    """A schema of the model -> the schema of what may be written, all the way down."""
    if isinstance(node, list):
        return [_restored(inner) for inner in node]
    if not isinstance(node, dict):
        return node
    node = {key: _restored(inner) for key, inner in _without_null(node).items()}
    if isinstance(node.get("title"), str):
        del node["title"]
    if node.get("default", "") in ("", [], {}, None):
        node.pop("default", None)
    return _as_written(node)


def _without_null(node: Schema) -> Schema:
    kinds = [k for k in node.get("anyOf", []) if k != {"type": "null"}]
    return {**_without(node, "anyOf"), **kinds[0]} if len(kinds) == 1 else node


def _as_written(node: Schema) -> Schema:
    match node:
        case {"type": "boolean"}:
            default = {"default": "yes" if node["default"] else "no"} if "default" in node else {}
            return _without(node, "type") | {"enum": ["yes", "no", True, False]} | default
        case {"type": "array", "prefixItems": [one, *others]} if others == [one]:
            return _without(node, "prefixItems") | {"items": one}  # a pair: draft 7 has no more
        case {"type": "array", "items": {"type": "array"}}:
            return node
        case {"type": "array", "items": {"enum": _} | {"type": _} as one}:
            return _one_or_list(node, one)
        case {"type": "array", "items": {"$ref": str() as ref}} if ref.endswith(SINGLE):
            return _one_or_list(node, node["items"])
        case {"propertyNames": {"enum": list() as names}}:
            inner = node["additionalProperties"]
            table = {"properties": dict.fromkeys(names, inner), "additionalProperties": False}
            return _without(node, "propertyNames") | table
        case {"type": "string", "format": "date"}:
            return node | {"pattern": DATE}
        case {"type": "string"} if not {"enum", "const", "pattern"} & set(node):
            return _text(node)
    return node


def _without(node: Schema, *keys: str) -> Schema:
    return {key: inner for key, inner in node.items() if key not in keys}


def _text(node: Schema) -> Schema:
    return node | {"type": TEXT, "minLength": 1}


def _one_or_list(node: Schema, one: Schema) -> Schema:
    about = {key: node[key] for key in ("description",) if key in node}
    return about | {"anyOf": [one, _without(node, "description", "default")]}
