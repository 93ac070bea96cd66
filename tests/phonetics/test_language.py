"""No language in the code: what is English stands in data/en_*."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from builder import phonetics
from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon.sources import sources
from builder.phonetics.tables import rows

HERE = Path(phonetics.__path__[0])
FILES = sorted(HERE.glob("*.py"))
NO_LANGUAGE = {
    "cmudict",  # what readings call the dictionary, wherever it lies
    "M",  # Unicode's class of accents, no sound
}


def strings(file: Path) -> Iterator[str]:
    """Every string of a module but its docstrings."""
    tree = ast.parse(file.read_text("utf-8"))
    notes = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in notes:
            yield node.value


def names_of_sources() -> set[str]:
    return {
        name
        for source in sources().values()
        for name in (source.package, source.module, source.voice, *source.files)
        if name
    }


def is_english(text: str) -> bool:
    """Whether a string is, or names, a sound, a sign, a file or a package of English."""
    signs = {s.ipa for s in sounds().values()} | {row["sign"] for row in rows("ipa")}
    symbols = set(re.findall(r"\b[A-Z]{2,3}(?=[012]?\b)", text)) | {text.rstrip("012")}
    alone = {sign for sign in signs if not sign.isascii()}
    named = [name for name in names_of_sources() if re.search(rf"\b{re.escape(name)}\b", text)]
    return bool(symbols & sounds().keys() or text in alone or named or text.startswith("data/en"))


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.name)
def test_no_string_of_the_code_is_english(file: Path) -> None:
    assert [s for s in strings(file) if s not in NO_LANGUAGE and is_english(s)] == []


@pytest.mark.parametrize("text", ["R", "AH0", " K AE1 T ", "ɝ", "en-us", "data/en_x.csv", "hibari"])
def test_what_is_english_is_seen(text: str) -> None:
    assert is_english(text)


@pytest.mark.parametrize("text", ["consonant", "WHERE word = ?", "rules", "∅", "", "M."])
def test_what_belongs_to_no_language_is_let_through(text: str) -> None:
    assert not is_english(text)


def test_every_table_names_its_language() -> None:
    assert all(file.name.startswith("en_") for file in (HERE / "data").iterdir())
