"""Bytes into trees: what is read, what is refused, and that nothing else can happen."""

from __future__ import annotations

import itertools
import pathlib
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.problems import Place, ProgramError, UsageError
from builder.program_file import yaml_tree
from builder.program_file.yaml_tree import Tree, parse, read
from tests.support.places import TESTS

FINE = (TESTS / "programs" / "fine.yaml").read_bytes()


@pytest.fixture(params=[yaml.CSafeLoader, yaml.SafeLoader], ids=["libyaml", "PyYAML's own"])
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both parsers in turn: a machine may lack the C one."""
    monkeypatch.setattr(yaml_tree, "LOADER", request.param)


def refused(data: bytes) -> str:
    with pytest.raises(ProgramError) as caught:
        parse(data, "f.yaml")
    return str(caught.value)


@pytest.mark.usefixtures("parser")
@pytest.mark.parametrize(
    ("text", "value"),
    [
        pytest.param("a: no", {"a": "no"}, id="no is a word"),
        pytest.param(
            "a: [on, 1:30, 010, ~, 2026-12-03]",
            {"a": ["on", "1:30", "010", "~", "2026-12-03"]},
            id="all else is text too",
        ),
        pytest.param("a:\nb: ''", {"a": "", "b": ""}, id="nothing after a key"),
        pytest.param("a:\n- b: c\n- d", {"a": [{"b": "c"}, "d"]}, id="lists and keys"),
        pytest.param("a: b\r\nc: d\r\n", {"a": "b", "c": "d"}, id="line ends of Windows"),
        pytest.param("\ufeffa: b", {"a": "b"}, id="a byte order mark is passed over"),
        pytest.param("a:\u00a0b\u2003c", {"a": "b c"}, id="odd spaces are plain spaces"),
        pytest.param("a:\tb # \tc\n\t\n", {"a": "b"}, id="a tab behind a key is a space"),
        pytest.param("a: 💧 ‏שלום", {"a": "💧 שלום"}, id="emoji and right to left"),
        pytest.param("'<b>': \"a\\tb\"", {"<b>": "a\tb"}, id="quotes keep what they hold"),
        pytest.param("---\na: b\n...\n", {"a": "b"}, id="the marks of one document"),
    ],
)
def test_value(text: str, value: Any) -> None:
    assert parse(text.encode(), "f.yaml").value == value


def test_places() -> None:
    tree = parse("steps:\n  - {name: 💧 a, level: word}\ncues:\n  air: puff\n".encode(), "f.yaml")
    assert tree.places["steps", 0] == Place("f.yaml", 2, 5)
    assert tree.places["steps", 0, "name"] == Place("f.yaml", 2, 12)
    assert tree.keys["steps", 0, "level"] == Place("f.yaml", 2, 17)
    assert tree.places["cues",] == tree.keys["cues",] == Place("f.yaml", 3, 1)
    assert tree.place(("steps", 0, "rounds", 3)) == Place("f.yaml", 2, 5)
    assert tree.place(("words",)) == Place("f.yaml")


@pytest.mark.usefixtures("parser")
@pytest.mark.parametrize(
    ("data", "said"),
    [
        pytest.param(b"", "f.yaml: fault: The file is empty.", id="nothing at all"),
        pytest.param(b"---\n# k\n", "f.yaml: fault: The file is empty.", id="a comment alone"),
        pytest.param(b"\xef\xbb\xbf", "f.yaml: fault: The file is empty.", id="a mark alone"),
        pytest.param(b"a: " + b"x" * 1_000_000, "is larger than 1 MB", id="over 1 MB"),
        pytest.param("a: b".encode("utf-16-be"), "as UTF-16", id="UTF-16 without a mark"),
        pytest.param("a: b".encode("utf-32"), "as UTF-16", id="UTF-32"),
        pytest.param(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is not plain text", id="a picture"),
        pytest.param(b"k: v\na: caf\xe9", "f.yaml:2:7: ", id="an old coding"),
        pytest.param(b"\xef\xbb\xbfa: \xe9", "f.yaml:1:4: ", id="the same behind a mark"),
        pytest.param(b"a: b\x07", "f.yaml:1:5: fault: There is an invisible", id="a bell"),
        pytest.param(b"a: b\0", "(U+0000)", id="a zero"),
        pytest.param(b'a: "b\\x07"', "(U+0007)", id="a bell by its number"),
        pytest.param("a: b\u2028c".encode(), "(U+2028)", id="a line break nobody sees"),
        pytest.param(
            b"a:\n\tb: c\n\td: e",
            "f.yaml:2:1: fault: This line is indented",
            id="a tab",
        ),
        pytest.param(b"a: 1\r\n  \tb: c", "f.yaml:2:3: ", id="a tab behind spaces"),
        pytest.param(b"[" * 100_000, "More than 20 lists", id="100,000 brackets"),
        pytest.param(b"{a: " * 30_000, "More than 20 lists", id="30,000 braces"),
        pytest.param(b"- " * 100_000, "More than 20 lists", id="100,000 hyphens"),
        pytest.param(b"a: [&x b, *x]", "begin with `&` or `*` (and 1", id="a link"),
        pytest.param(b"a: {<<: *x}", "begin with `*`", id="a merge"),
        pytest.param(b"a: !!python/name:os.system", "begin with `!`", id="a type"),
        pytest.param(b"a: b\n---\na: c", "f.yaml:2:1: fault: A second doc", id="two documents"),
        pytest.param(
            b"a: 1\nb: 2\na: 3",
            "f.yaml:3:1: fault: `a` is listed twice; the first one is on line 1",
            id="a key twice",
        ),
        pytest.param(b"? [a]\n: b", "The key is missing, or is not a plain", id="a list as key"),
        pytest.param(b"a: b\n: c", "f.yaml:2:1: fault: The key is missing", id="no key"),
        pytest.param(b"%YAML 9.9\n---\na: b", "cannot begin with `%`", id="a line for the parser"),
    ],
)
def test_refused(data: bytes, said: str) -> None:
    assert said in refused(data)


@pytest.mark.usefixtures("parser")
@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        pytest.param("a: 1\nsound:k\nb: 2", "2:6", "needs a space after it", id="no space"),
        pytest.param("sound:k\nb: 2", "1:6", "needs a space after it", id="no space, first line"),
        pytest.param("w:\n-key\n-cow", "2:1", "hyphen before a list item", id="no space, hyphen"),
        pytest.param("t: Up: back", "1:6", "a second colon", id="a second colon"),
        pytest.param("a: 1\n b: 2", "2:2", "indented further", id="too far right"),
        pytest.param("a:\n  b: 1\n c: 2", "3:2", "is not aligned", id="between two groups"),
        pytest.param("a: 1\n- b", "2:1", "is not aligned", id="an item among keys"),
        pytest.param("a: - b", "1:4", "same line as its key", id="a list behind its key"),
        pytest.param("a: 'tis\nb: 1", "1:4", "is never closed", id="an apostrophe first"),
        pytest.param("a: 'it's big'", "1:8", "after a closing", id="an apostrophe inside quotes"),
        pytest.param("a: [b\nc: d", "1:4", "missing before line 2", id="an open bracket"),
        pytest.param("a: {b: c", "1:4", "before the end of the file", id="an open brace"),
        pytest.param("a: [b, , c]", "1:8", "A value is missing", id="a comma too many"),
        pytest.param("a: @b", "1:4", "begin with `@`", id="a sign that YAML keeps"),
        pytest.param("a: *b* c", "1:4", "begin with `*`", id="stars for stress"),
        pytest.param("a: |b\n  c", "1:4", "`|` or `>`", id="text behind a bar"),
        pytest.param("a: 1\nb\nc: 2", "2:1", "has no colon", id="no colon"),
        pytest.param("a: 1\n...\nb: 2", "3:1", "ends the file", id="something behind the end"),
    ],
)
def test_syntax(text: str, place: str, said: str) -> None:
    message = refused(text.encode())
    assert message.startswith(f"f.yaml:{place}: fault: ")
    assert said in message


def test_a_bomb_of_links_is_one_finding() -> None:
    bomb = "a: &a [x, x]\n" + "".join(
        f"{b}: &{b} [*{a}, *{a}]\n" for a, b in itertools.pairwise("abcdefg")
    )
    message = refused(bomb.encode())
    assert message.count(": fault: ") == 1
    assert message.startswith("f.yaml:1:4: fault: Text cannot begin with `&` or `*` (and 18 more")


def test_findings_are_few_however_many_faults() -> None:
    assert refused(b"a: 1\n" * 100_000).count(": fault: ") == yaml_tree.MAX_FINDINGS


def test_read_names_the_file(tmp_path: pathlib.Path) -> None:
    file = tmp_path / "heron-07.yaml"
    file.write_bytes(FINE)
    assert read(file).places["sound",] == Place(str(file), 6, 8)
    assert read(file, "heron-07.yaml").file == "heron-07.yaml"


def test_a_file_that_cannot_be_opened(tmp_path: pathlib.Path) -> None:
    with pytest.raises(UsageError, match=r"none\.yaml: there is no such file\.$"):
        read(tmp_path / "none.yaml")
    with pytest.raises(UsageError, match="is a folder"):
        read(tmp_path)
    with pytest.raises(UsageError, match="cannot be opened"):
        read(tmp_path / ("x" * 5000))


def outcome(data: bytes) -> None:
    """A tree, or findings that each have a sentence and a remedy; nothing else."""
    try:
        assert isinstance(parse(data, "f.yaml"), Tree)
        return
    except ProgramError as error:
        findings = error.findings
    assert findings
    assert all(f.sentence.endswith(".") and f.remedy for f in findings)


SIGNS = st.text(alphabet="ab:- \n\t[]{},'\"#&*!|>%@`?\\~<=.0\r\u00a0\u2028💧", max_size=40)


@pytest.mark.parametrize("loader", [yaml.CSafeLoader, yaml.SafeLoader])
@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=60) | SIGNS.map(str.encode) | st.text(max_size=30).map(str.encode))
def test_any_bytes_give_a_tree_or_findings(loader: Any, data: bytes) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(yaml_tree, "LOADER", loader)
        outcome(data)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(FINE)), st.integers(0, 30), SIGNS)
def test_any_change_of_a_program_gives_a_tree_or_findings(at: int, gone: int, new: str) -> None:
    outcome(FINE[:at] + new.encode() + FINE[at + gone :])
