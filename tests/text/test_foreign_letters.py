from __future__ import annotations

import unicodedata

import pytest

from builder.problems import ProgramError
from builder.program_file.yaml_tree import parse
from builder.text.foreign_letters import ALIKE, foreign_words


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        pytest.param(
            "a: b\nc: [key, k\u0456te]",
            "2:11",
            "The `\u0456` in `k\u0456te` is not our letter but the Cyrillic one that looks like it "
            "(U+0456). [reading]\n    remedy: Delete it and type `i`.",
            id="in a word",
        ),
        pytest.param("s\u043eund: k", "1:2", "Cyrillic one", id="in a key"),
        pytest.param("c: >\n  my\n  k\u0435y", "3:4", "(U+0435)", id="in a text of several lines"),
        pytest.param("c: '\u039aey'", "1:5", "Greek one", id="a Greek capital"),
        pytest.param('c: "k\\u0456te"', "1:5", "(U+0456)", id="typed by its number"),
    ],
)
def test_a_foreign_letter_that_looks_like_ours_is_named_with_its_place(
    text: str, place: str, said: str
) -> None:
    with pytest.raises(ProgramError) as caught:
        parse(text.encode(), "f.yaml")
    assert str(caught.value).startswith(f"f.yaml:{place}: fault: ")
    assert said in str(caught.value)


@pytest.mark.parametrize("text", ["θɪn", "βaχ", "кот и кит", "café", "\u0431rook"], ids=ascii)
def test_whole_words_of_another_language_ipa_and_accents_pass(text: str) -> None:
    assert foreign_words(text) == []


def test_comments_may_hold_any_letter() -> None:
    assert parse("a: b  # k\u0456te".encode(), "f.yaml").value == {"a": "b"}


def test_every_letter_is_of_another_alphabet_than_its_twin() -> None:
    for letter, twin in ALIKE.items():
        assert unicodedata.name(chr(letter)).split()[0] in ("CYRILLIC", "GREEK")
        assert unicodedata.name(chr(twin)).startswith("LATIN ")
        assert chr(letter).isupper() == chr(twin).isupper()
